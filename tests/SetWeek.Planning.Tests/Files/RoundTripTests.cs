using System.Text;
using System.Text.Json.Nodes;
using SetWeek.Bench;
using SetWeek.Bench.Instances;
using SetWeek.Model.Checking;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Tests.Outside;

namespace SetWeek.Planning.Tests.Files;

public class RoundTripTests
{
    [Fact]
    public void A_week_that_uses_every_field_is_written_as_it_was_read() =>
        SameMeaning(ExampleFiles.Read("bell-yard.week.json"), WeekFile.Write(ExampleFiles.Week));

    [Fact]
    public void A_plan_is_written_as_it_was_read() =>
        SameMeaning(ExampleFiles.Read("bell-yard.plan.json"), PlanFile.Write(ExampleFiles.Plan));

    [Fact]
    public void The_example_plan_keeps_every_rule_of_its_week()
    {
        var problem = Problem.Of(ExampleFiles.Week);
        Assert.Equal([], Checker.Check(problem, PlanConverter.ScheduleOf(problem, ExampleFiles.Plan)).Select(breach => breach.Sentence));
    }

    [SharedFact]
    public void The_small_week_and_its_plan_are_written_as_they_were_read()
    {
        var (week, plan) = (Shared("small.week.json"), Shared("small.plan.json"));
        var read = WeekFile.Read(week).Match(good => good, ExampleFiles.Fail<Week>);
        SameMeaning(week, WeekFile.Write(read));
        SameMeaning(plan, PlanFile.Write(PlanFile.Read(plan, read).Match(good => good, ExampleFiles.Fail<Plan>)));
    }

    [SharedFact]
    public void The_small_plan_goes_to_minutes_and_back_unchanged()
    {
        var week = WeekFile.Read(Shared("small.week.json")).Match(good => good, ExampleFiles.Fail<Week>);
        var plan = PlanFile.Read(Shared("small.plan.json"), week).Match(good => good, ExampleFiles.Fail<Plan>);
        var problem = Problem.Of(week);
        var back = plan with { Nights = PlanConverter.NightsOf(problem, PlanConverter.ScheduleOf(problem, plan)) };
        Assert.Equal(Sorted(PlanFile.Write(plan)), Sorted(PlanFile.Write(back)));
    }

    [Fact]
    public void Generated_weeks_are_valid_and_come_back_byte_for_byte()
    {
        foreach (var (size, seed) in WeekGenerator.Fixed)
        {
            var written = WeekFile.Write(WeekGenerator.Make(size, seed));
            var read = WeekFile.Read(written).Match(good => good, ExampleFiles.Fail<Week>);
            Assert.Equal(Encoding.UTF8.GetString(written), Encoding.UTF8.GetString(WeekFile.Write(read)));
        }
    }

    // The sets of ../shared/data: their READMEs name the sources.
    [OpenDataFact("rcpsp")]
    public void Open_benchmarks_are_valid_weeks()
    {
        var data = OpenData.Folder!;
        Week[] weeks =
        [
            .. Files(data, "*.sm").Select(file => ProjectInstance.Read(Name(file), File.ReadAllText(file))),
            .. Files(data, "*.dzn").Select(file => MultiSkillInstance.Read(Name(file), File.ReadAllText(file))),
            .. Files(data, "*.def").Select(file => SkillLevelInstance.Read(Name(file), File.ReadAllText(file))),
        ];
        Assert.True(weeks.Length > 50);
        foreach (var week in weeks) Problem.Of(WeekFile.Check(week).Match(good => good, ExampleFiles.Fail<Week>));
    }

    /// <summary>One in ten, and so some of every set.</summary>
    private static IEnumerable<string> Files(string folder, string pattern) =>
        Directory.EnumerateFiles(folder, pattern, SearchOption.AllDirectories).Order(StringComparer.Ordinal)
            .Where((_, index) => index % 10 == 0);

    private static string Name(string file) => Path.GetFileNameWithoutExtension(file).ToLowerInvariant().Replace('_', '-');

    private static byte[] Shared(string name) => SharedFactAttribute.Read(name);

    /// <summary>Equal but for what is as by default: a default left out and an empty list mean the same.</summary>
    private static void SameMeaning(byte[] one, byte[] other) =>
        Assert.Equal(Plain(JsonNode.Parse(one))!.ToJsonString(), Plain(JsonNode.Parse(other))!.ToJsonString());

    private static JsonNode? Plain(JsonNode? node) => node switch
    {
        JsonObject fields => new JsonObject(fields.Where(field => !IsUsual(field.Key, field.Value))
            .OrderBy(field => field.Key, StringComparer.Ordinal)
            .Select(field => KeyValuePair.Create(field.Key, Plain(field.Value)))),
        JsonArray items => new JsonArray([.. items.Select(Plain)]),
        _ => node?.DeepClone(),
    };

    private static bool IsUsual(string name, JsonNode? value) => (name, value?.ToJsonString()) is
        ("gridMinutes", "5") or ("stints", "1") or ("dryMinutes" or "minutesAlready", "0") or (_, "false" or "[]")
        || (name is "level" && value?.ToJsonString() == "1") || (name is "count" && value?.ToJsonString() == "1");

    private static string Sorted(byte[] plan)
    {
        var root = JsonNode.Parse(plan)!;
        foreach (var list in root["nights"]!.AsArray()
            .SelectMany(night => new[] { night!["work"]!.AsArray(), night["shifts"]!.AsArray() }))
        {
            foreach (var people in list.Select(item => item!["people"]).OfType<JsonArray>()) Sort(people);
            Sort(list);
        }
        return root.ToJsonString();

        static void Sort(JsonArray list)
        {
            JsonNode[] sorted = [.. list.Select(item => item!.DeepClone())
                .OrderBy(item => item.ToJsonString(), StringComparer.Ordinal)];
            list.Clear();
            foreach (var item in sorted) list.Add(item);
        }
    }
}
