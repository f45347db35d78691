using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using OneOf;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Files;

/// <summary>The rule sets in ops/rule-sets: each number is a field of the week file's rules and has a citation.</summary>
public class RuleSetFilesTests
{
    private static readonly string Folder = Path.Combine(ExampleFiles.Root, "ops", "rule-sets");

    public static TheoryData<string> Files => new(
        Directory.GetFiles(Folder, "*.json").Select(Path.GetFileName).OfType<string>().Order());

    [Theory]
    [MemberData(nameof(Files))]
    public void Each_number_is_a_field_of_the_week_files_rules_and_has_a_citation(string file)
    {
        var set = Read(file);
        Assert.Equal(Path.GetFileNameWithoutExtension(file), set.GetProperty("id").GetString());
        Assert.Contains("no legal advice", set.GetProperty("note").GetString());
        foreach (var number in set.GetProperty("numbers").EnumerateArray())
        {
            Assert.False(string.IsNullOrWhiteSpace(number.GetProperty("citation").GetString()));
            Assert.Contains(number.GetProperty("read").GetString(),
                new[] { "the text itself", "a page that reports the text", "from memory", "common practice, no source" });
        }
        // The reader of week files checks names, types and ranges.
        Assert.True(WeekWith([set]).IsT0, file);
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void A_set_of_rules_is_empty_only_without_any(string file)
    {
        Assert.False(WeekWith([Read(file)]).AsT0.Rules.IsEmpty());
        // As a file is read that has none: its lists are others than those of a new object.
        Assert.True(WeekWith([]).AsT0.Rules.IsEmpty());
        Assert.True(new RuleSet { Company = new List<CompanyRequirement>(), Under18 = new() { Barred = new List<string>() } }.IsEmpty());
        foreach (var rules in (RuleSet[])[new() { KeyholderPresent = true }, new() { ReservePercent = 0 }, new() { Company = [new("ladder", 2)] },
            new() { Under18 = new() { Barred = ["ladder"] } }, new() { Under18 = new() { BreakMinutes = 30 } }])
            Assert.False(rules.IsEmpty(), $"{rules}");
    }

    [Fact]
    public void The_demo_stores_have_the_rules_of_Great_Britain_and_of_their_chain()
    {
        var combined = WeekWith([Read("great-britain.json"), Read("quillmere.json")]).AsT0.Rules;
        foreach (var store in new[] { "harbour-street", "mill-lane" })
        {
            var rules = WeekFile.Read(ExampleFiles.Read($"{store}.week.json")).AsT0.Rules;
            Assert.Equal(combined with { Under18 = null, Company = [] }, rules with { Under18 = null, Company = [] });
            Assert.Equal(combined.Company, rules.Company);
            Assert.Equal(combined.Under18! with { Barred = [] }, rules.Under18! with { Barred = [] });
            Assert.Equal(combined.Under18!.Barred, rules.Under18!.Barred);
        }
    }

    /// <summary>The week of Harbour Street with the rules of these sets and no others.</summary>
    private static OneOf<Week, FaultReport> WeekWith(IReadOnlyList<JsonElement> sets)
    {
        var week = JsonNode.Parse(ExampleFiles.Read("harbour-street.week.json"))!;
        var rules = new JsonObject();
        foreach (var number in sets.SelectMany(set => set.GetProperty("numbers").EnumerateArray()))
        {
            var path = number.GetProperty("rule").GetString()!.Split('.');
            var target = rules;
            foreach (var step in path[..^1]) target = (JsonObject)(target[step] ??= new JsonObject());
            target[path[^1]] = JsonNode.Parse(number.GetProperty("value").GetRawText());
        }
        week["rules"] = rules;
        return WeekFile.Read(Encoding.UTF8.GetBytes(week.ToJsonString()));
    }

    private static JsonElement Read(string file) =>
        JsonDocument.Parse(File.ReadAllBytes(Path.Combine(Folder, file))).RootElement;
}
