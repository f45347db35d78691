using System.Text;
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
        AssertSameContent(ExampleFiles.Read("bell-yard.week.json"), WeekFile.Write(ExampleFiles.Week));

    [Fact]
    public void Pins_the_hold_target_and_the_rules_of_company_are_written_as_they_were_read()
    {
        var node = JsonNode.Parse(ExampleFiles.Read("bell-yard.week.json"))!.AsObject();
        var (task, person, night) = (ExampleFiles.Week.Tasks[0].Id, ExampleFiles.Week.Crew[0].Id, ExampleFiles.Week.Nights[0]);
        node["hold"] = JsonNode.Parse("""{"chance": 95, "graceMinutes": 0, "scenarios": 64, "seed": 7}""");
        node["pins"] = JsonNode.Parse($$"""
            [{"task": "{{task}}", "stint": 1, "night": "{{night.Id}}", "from": "2027-03-11T22:00", "people": ["{{person}}"]},
             {"person": "{{person}}", "night": "{{night.Id}}", "off": true},
             {"person": "{{person}}", "night": "{{night.Id}}", "from": "2027-03-11T21:30", "to": "2027-03-12T02:00"}]
            """);
        node["rules"]!["company"] = JsonNode.Parse("""[{"trait": "ladder", "people": 2}]""");
        node["rules"]!["briefingMinutes"] = 10;
        node["rules"]!["breakClearMinutes"] = 45;
        node["tasks"]![0]!["empties"] = true;
        node["tasks"]![1]!["fills"] = true;
        node["store"]!["zones"]![0]!["tradePerDay"] = 120000;
        var file = Encoding.UTF8.GetBytes(node.ToJsonString());
        AssertSameContent(file, WeekFile.Write(WeekFile.Read(file).Match(value => value, ExampleFiles.Fail<Week>)));
    }

    [Fact]
    public void A_plan_is_written_as_it_was_read() =>
        AssertSameContent(ExampleFiles.Read("bell-yard.plan.json"), PlanFile.Write(ExampleFiles.Plan));

    [Fact]
    public void The_example_plan_breaks_no_rule_of_its_week()
    {
        var problem = Problem.Of(ExampleFiles.Week);
        Assert.Equal([], Checker.Check(problem, PlanConverter.ScheduleOf(problem, ExampleFiles.Plan))
            .Select(breach => breach.Sentence));
    }

    [SharedFact]
    public void The_small_week_and_its_plan_are_written_as_they_were_read()
    {
        var (week, plan) = (Shared("small.week.json"), Shared("small.plan.json"));
        var read = WeekFile.Read(week).Match(value => value, ExampleFiles.Fail<Week>);
        AssertSameContent(week, WeekFile.Write(read));
        AssertSameContent(plan, PlanFile.Write(PlanFile.Read(plan, read).Match(value => value, ExampleFiles.Fail<Plan>)));
    }

    [SharedFact]
    public void The_small_plan_is_unchanged_by_conversion_to_minutes_and_back()
    {
        var week = WeekFile.Read(Shared("small.week.json")).Match(value => value, ExampleFiles.Fail<Week>);
        var plan = PlanFile.Read(Shared("small.plan.json"), week).Match(value => value, ExampleFiles.Fail<Plan>);
        var problem = Problem.Of(week);
        var back = plan with { Nights = PlanConverter.NightsOf(problem, PlanConverter.ScheduleOf(problem, plan)) };
        Assert.Equal(Sorted(PlanFile.Write(plan)), Sorted(PlanFile.Write(back)));
    }

    private static byte[] Shared(string name) => SharedFactAttribute.Read(name);

    /// <summary>Compares two files without their default values: an omitted default and a written one mean the same.</summary>
    private static void AssertSameContent(byte[] expected, byte[] actual) =>
        Assert.Equal(WithoutDefaults(JsonNode.Parse(expected))!.ToJsonString(),
            WithoutDefaults(JsonNode.Parse(actual))!.ToJsonString());

    private static JsonNode? WithoutDefaults(JsonNode? node) => node switch
    {
        JsonObject fields => new JsonObject(fields.Where(field => !IsDefault(field.Key, field.Value))
            .OrderBy(field => field.Key, StringComparer.Ordinal)
            .Select(field => KeyValuePair.Create(field.Key, WithoutDefaults(field.Value)))),
        JsonArray items => new JsonArray([.. items.Select(WithoutDefaults)]),
        _ => node?.DeepClone(),
    };

    private static bool IsDefault(string name, JsonNode? value) => (name, value?.ToJsonString()) is
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
