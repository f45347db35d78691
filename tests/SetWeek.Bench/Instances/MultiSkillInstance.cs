using System.Globalization;
using System.Text.RegularExpressions;
using SetWeek.Model.Weeks;

namespace SetWeek.Bench.Instances;

/// <summary>
/// Multi-skill instances (.dzn; Young, Feydy and Schutt 2017): an activity takes several people at once, each for one skill
/// and for the whole of it.
/// </summary>
public static partial class MultiSkillInstance
{
    public static Week Read(string name, string text)
    {
        var minutes = Numbers(text, "dur");
        var skills = Numbers(text, "nSkills")[0];
        var wanted = Numbers(text, "sreq");
        var mastery = Words().Matches(Field(text, "mastery")).Select(word => word.Value == "true").ToArray();
        var links = Numbers(text, "pred").Zip(Numbers(text, "succ")).ToLookup(pair => pair.Second, pair => pair.First);
        return ProjectWeek.Of(name,
            [.. minutes.Select((length, index) => new ProjectWeek.ProjectActivity($"t{index + 1}", length,
                [.. Enumerable.Range(0, skills).Select(skill => new SkillRequirement($"s{skill + 1}", wanted[index * skills + skill]))
                    .Where(role => role.People > 0)],
                [],
                [.. links[index + 1].Select(before => $"t{before}")]))],
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
