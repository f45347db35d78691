using System.Text.Json.Nodes;
using SetWeek.Model.Checking;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Files;

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
