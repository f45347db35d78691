using System.Globalization;
using System.Text.RegularExpressions;
using SetWeek.Model.Weeks;

namespace SetWeek.Bench.Instances;

/// <summary>
/// Reads project instances with skill levels (.def; Myszkowski et al. 2015), which need one person for each task. Their levels
/// start at 0, so each level is raised by one.
/// </summary>
public static partial class SkillLevelInstance
{
    public static Week Read(string name, string text)
    {
        var lines = text.Split('\n');
        var people = Block(lines, "ResourceID").Select(line => ProjectWeek.Worker($"p{FirstNumber(line)}",
            Skills().Matches(line).ToDictionary(skill => SkillId(skill), skill => Level(skill))));
        var tasks = Block(lines, "TaskID").Select(line =>
        {
            var skill = Skills().Match(line);
            var minutes = int.Parse(line.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)[1],
                CultureInfo.InvariantCulture);
            var before = line[(skill.Index + skill.Length)..].Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
            return new ProjectWeek.ProjectActivity($"t{FirstNumber(line)}", minutes,
                [new SkillRequirement(SkillId(skill), 1) { Level = Level(skill) }], [],
                [.. before.Select(number => $"t{number}")]);
        });
        return ProjectWeek.Of(name, [.. tasks], [.. people], []);
    }

    private static IEnumerable<string> Block(string[] lines, string title) => lines
        .SkipWhile(line => !line.StartsWith(title, StringComparison.Ordinal)).Skip(1)
        .TakeWhile(line => !line.StartsWith("==", StringComparison.Ordinal) && line.Trim().Length > 0);

    private static string FirstNumber(string line) => line.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)[0];
    private static string SkillId(Match skill) => $"q{skill.Groups[1].Value}";
    private static int Level(Match skill) => int.Parse(skill.Groups[2].Value, CultureInfo.InvariantCulture) + 1;

    [GeneratedRegex(@"Q(\d+): *(\d+)")]
    private static partial Regex Skills();
}
