using System.Globalization;
using System.Text.RegularExpressions;
using SetWeek.Model.Weeks;

namespace SetWeek.Bench.Instances;

/// <summary>
/// Reads multi-skill project instances (.dzn; Young, Feydy and Schutt 2017). An activity needs several people at once, each for
/// one skill and for its whole duration.
/// </summary>
public static partial class MultiSkillInstance
{
    public static Week Read(string name, string text)
    {
        var durations = Numbers(text, "dur");
        var skills = Numbers(text, "nSkills")[0];
        var required = Numbers(text, "sreq");
        var mastery = Words().Matches(Field(text, "mastery")).Select(word => word.Value == "true").ToArray();
        var predecessors = Numbers(text, "pred").Zip(Numbers(text, "succ")).ToLookup(pair => pair.Second, pair => pair.First);
        return ProjectWeek.Of(name,
            [.. durations.Select((duration, index) => new ProjectWeek.ProjectActivity($"t{index + 1}", duration,
                [.. Enumerable.Range(0, skills).Select(skill =>
                    new SkillRequirement($"s{skill + 1}", required[index * skills + skill]))
                    .Where(role => role.People > 0)],
                [],
                [.. predecessors[index + 1].Select(before => $"t{before}")]))],
            [.. Enumerable.Range(0, mastery.Length / skills).Select(person => ProjectWeek.Worker($"p{person + 1}",
                Enumerable.Range(0, skills).Where(skill => mastery[person * skills + skill])
                    .ToDictionary(skill => $"s{skill + 1}", _ => 1)))],
            []);
    }

    private static int[] Numbers(string text, string field) =>
        [.. Digits().Matches(Field(text, field)).Select(number => int.Parse(number.Value, CultureInfo.InvariantCulture))];

    private static string Field(string text, string field) =>
        Regex.Match(text, $@"^{field} = ([^;]*);", RegexOptions.Multiline).Groups[1].Value;

    [GeneratedRegex(@"\d+")]
    private static partial Regex Digits();

    [GeneratedRegex("true|false")]
    private static partial Regex Words();
}
