using System.Text;
using System.Text.Json.Nodes;
using SetWeek.Model.Files;
using SetWeek.Model.Json;

namespace SetWeek.Model.Tests.Files.Validation;

/// <summary>The example week with one change each: the fault that the reader finds, its place, and no other fault.</summary>
public class WeekFaultTests
{
    private static IReadOnlyList<Fault> FaultsAfter(Action<JsonNode> change)
    {
        var week = JsonNode.Parse(ExampleFiles.Read("bell-yard.week.json"))!;
        change(week);
        return WeekFile.Read(Encoding.UTF8.GetBytes(week.ToJsonString())).Match(_ => [], faults => faults.All);
    }

    private static string DetailOfOnlyFault(string pointer, Action<JsonNode> change)
    {
        var faults = FaultsAfter(change);
        Assert.Equal([pointer], faults.Select(fault => fault.Pointer));
        return faults[0].Detail;
    }

    private static JsonNode Task(JsonNode week, string id) =>
        week["tasks"]!.AsArray().Single(task => (string)task!["id"]! == id)!;

    private static JsonNode Json(string text) => JsonNode.Parse(text)!;

    [Fact]
    public void The_example_week_has_no_fault() => Assert.Empty(FaultsAfter(_ => { }));

    [Theory]
    [InlineData("/crew/0/available/0/night", "crew.0.available.0.night")]
    [InlineData("/displays/1/alternate/display", "displays.1.alternate.display")]
    [InlineData("/tasks/0/display", "tasks.0.display")]
    [InlineData("/tasks/0/zone", "tasks.0.zone")]
    [InlineData("/tasks/0/modes/0/equipment/0/id", "tasks.0.modes.0.equipment.0.id")]
    [InlineData("/tasks/1/after/0/task", "tasks.1.after.0.task")]
    [InlineData("/tasks/1/needs/0/kit", "tasks.1.needs.0.kit")]
    [InlineData("/tasks/1/needs/0/item", "tasks.1.needs.0.item")]
    [InlineData("/tasks/6/due", "tasks.6.due")]
    public void An_id_that_names_nothing_is_a_fault(string pointer, string path) =>
        Assert.Contains("nobody-knows", DetailOfOnlyFault(pointer, week =>
        {
            var steps = path.Split('.');
            var parent = steps[..^1]
                .Aggregate(week, (node, step) => int.TryParse(step, out var index) ? node[index]! : node[step]!);
            parent[steps[^1]] = "nobody-knows";
        }));

    [Fact]
    public void The_fault_of_a_misspelt_id_suggests_the_right_one() =>
        Assert.Contains("\"window\"", DetailOfOnlyFault("/tasks/0/zone", week => week["tasks"]![0]!["zone"] = "windwo"));

    [Theory]
    [InlineData("nights")]
    [InlineData("crew")]
    [InlineData("kits")]
    [InlineData("displays")]
    public void A_duplicate_id_is_a_fault(string list) =>
        Assert.Contains(FaultsAfter(week => week[list]![1]!["id"] = (string)week[list]![0]!["id"]!),
            fault => fault.Pointer == $"/{list}/1/id");

    [Fact]
    public void An_item_listed_twice_in_a_kit_is_a_fault() =>
        DetailOfOnlyFault("/kits/1/lines/2/item",
            week => week["kits"]![1]!["lines"]!.AsArray().Add(Json("""{ "item": "clip", "expected": 1 }""")));

    [Fact]
    public void A_cycle_of_tasks_is_a_fault_that_shows_its_path() =>
        Assert.Contains("“First coat” -> “Dress the forms” -> “Second coat” -> “First coat”",
            DetailOfOnlyFault("/tasks/1/after/0/task", week =>
            Task(week, "wall.first-coat")["after"] = Json("""[{ "task": "wall.dress" }]""")));

    [Fact]
    public void A_task_after_itself_is_a_cycle() =>
        Assert.Contains("“Move the rails” -> “Move the rails”",
            DetailOfOnlyFault("/tasks/6/after/0/task", week =>
                Task(week, "finish.move")["after"] = Json("""[{ "task": "finish.move" }]""")));

    [Fact]
    public void A_role_that_too_few_can_fill_is_a_fault() =>
        Assert.Contains("only 2",
            DetailOfOnlyFault("/tasks/6/modes/0/roles/0", week =>
                Task(week, "finish.move")["modes"]![0]!["roles"]![0]!["people"] = 3));

    [Fact]
    public void A_level_that_nobody_reaches_is_a_fault() =>
        Assert.Contains("nobody",
            DetailOfOnlyFault("/tasks/3/modes/0/roles/0", week =>
                Task(week, "canopy.hang")["modes"]![0]!["roles"]![0]!["level"] = 3));

    // Only Bo can rig, and only Ada and Bo can move stock. Each role alone can be filled, but one rigger and two for stock
    // cannot.
    [Fact]
    public void Roles_that_no_assignment_fills_together_are_a_fault() =>
        DetailOfOnlyFault("/tasks/3/modes/0/roles", week => Task(week, "canopy.hang")["modes"]![0]!["roles"]![1]!["people"] = 2);

    // Cy, 17, is the only other dresser; ladders are barred under 18.
    [Fact]
    public void A_young_worker_does_not_count_for_barred_work()
    {
        Assert.Empty(FaultsAfter(week => Task(week, "wall.dress")["modes"]![0]!["roles"]![0]!["people"] = 2));
        Assert.Contains("ladder", DetailOfOnlyFault("/tasks/2/modes/0/roles/0", week =>
        {
            Task(week, "wall.dress")["modes"]![0]!["roles"]![0]!["people"] = 2;
            Task(week, "wall.dress")["traits"] = Json("""["ladder"]""");
        }));
    }

    [Fact]
    public void A_clean_down_that_nobody_can_do_is_a_fault() =>
        DetailOfOnlyFault("/store/zones/0/cleanDown/roles/0",
            week => week["store"]!["zones"]![0]!["cleanDown"]!["roles"]![0]!["skill"] = "polishing");

    [Fact]
    public void An_unreadable_crew_is_the_only_fault() => DetailOfOnlyFault("/crew", week => week["crew"] = 7);

    [Fact]
    public void Nights_that_overlap_are_a_fault() => DetailOfOnlyFault("/nights/1/opens", week =>
    {
        week["nights"]![0]!["bans"] = new JsonArray();
        week["nights"]![0]!["closes"] = "2027-03-12T19:00";
    });

    [Fact]
    public void Nights_that_touch_are_valid() =>
        Assert.Empty(FaultsAfter(week => week["nights"]![0]!["closes"] = "2027-03-12T18:30"));

    [Fact]
    public void A_night_that_closes_before_it_opens_is_a_fault() =>
        Assert.Contains(FaultsAfter(week => week["nights"]![1]!["closes"] = "2027-03-12T02:00"),
            fault => fault.Pointer == "/nights/1/closes");

    [Theory]
    [InlineData("2027-13-13T09:00")]
    [InlineData("2027-03-13T24:61")]
    [InlineData("2027-02-30T09:00")]
    public void A_time_that_does_not_exist_is_a_fault(string launch) =>
        DetailOfOnlyFault("/launch", week => week["launch"] = launch);

    [Fact]
    public void An_unknown_time_zone_is_a_fault() =>
        DetailOfOnlyFault("/store/timeZone", week => week["store"]!["timeZone"] = "Europe/Londinium");

    [Fact]
    public void A_ban_or_an_availability_that_reaches_beyond_its_night_is_no_fault()
    {
        Assert.Empty(FaultsAfter(week => week["nights"]![0]!["bans"]![0]!["to"] = "2027-03-12T02:05"));
        Assert.Empty(FaultsAfter(week => week["crew"]![1]!["available"]![0]!["from"] = "2027-03-11T19:55"));
    }

    [Fact]
    public void A_launch_before_the_first_night_is_a_fault() =>
        DetailOfOnlyFault("/launch", week => week["launch"] = "2027-03-11T20:00");

    [Fact]
    public void A_shift_grid_that_is_no_multiple_of_the_grid_is_a_fault() =>
        DetailOfOnlyFault("/rules/shiftGridMinutes", week => week["rules"]!["shiftGridMinutes"] = 12);

    [Fact]
    public void A_break_without_a_length_is_a_fault() =>
        DetailOfOnlyFault("/rules/breakAfterMinutes", week => week["rules"]!.AsObject().Remove("breakMinutes"));

    [Fact]
    public void A_shortest_shift_above_the_longest_is_a_fault() =>
        DetailOfOnlyFault("/rules/minShiftMinutes", week => week["rules"]!["minShiftMinutes"] = 601);

    [Fact]
    public void A_want_without_a_value_is_a_fault() =>
        DetailOfOnlyFault("/displays/1/value", week => week["displays"]![1]!.AsObject().Remove("value"));

    [Fact]
    public void An_alternate_of_itself_is_a_fault() =>
        DetailOfOnlyFault("/displays/1/alternate/display", week => week["displays"]![1]!["alternate"]!["display"] = "canopy");

    [Fact]
    public void An_alternate_with_an_alternate_is_a_fault() => Assert.StartsWith(
        "“Banner instead of the canopy” has an alternate itself", DetailOfOnlyFault("/displays/1/alternate/display",
            week => week["displays"]![2]!["alternate"] = Json("""{ "display": "finish", "value": 1 }""")));

    [Fact]
    public void An_alternate_of_two_displays_is_a_fault() => Assert.StartsWith(
        "“Banner instead of the canopy” is already the alternate of “Feature wall”;",
        DetailOfOnlyFault("/displays/1/alternate/display",
            week => week["displays"]![0]!["alternate"] = Json("""{ "display": "banner", "value": 1 }""")));

    [Fact]
    public void A_second_last_task_is_a_fault() => DetailOfOnlyFault("/tasks/8/last", week =>
        Task(week, "finish.air")["last"] = true);

    [Fact]
    public void An_unknown_or_repeated_goal_is_a_fault()
    {
        DetailOfOnlyFault("/goals/0", week => week["goals"]![0] = "glory");
        DetailOfOnlyFault("/goals/0", week => week["goals"]![0] = "changes");
        DetailOfOnlyFault("/goals/2", week => week["goals"]![2] = "cost");
    }

    [Fact]
    public void An_estimate_that_excludes_the_likely_duration_is_a_fault() =>
        DetailOfOnlyFault("/tasks/0/estimate", week => Task(week, "wall.first-coat")["estimate"]!["optimistic"] = 61);

    [Theory]
    [InlineData("tasks", 501)]
    [InlineData("crew", 61)]
    [InlineData("nights", 22)]
    public void A_list_beyond_its_limit_is_a_fault(string list, int count) =>
        Assert.Contains(
            FaultsAfter(week =>
                week[list] = new JsonArray([.. Enumerable.Repeat(week[list]![0]!, count).Select(item => item.DeepClone())])),
            fault => fault.Pointer == $"/{list}" && fault.Detail.Contains("at most"));

    // 28 March 2027: Europe/London goes from 01:00 to 02:00 (../shared/data/timezones, IANA tz database 2025b).
    [Fact]
    public void A_local_time_that_the_clock_skips_is_valid() => Assert.Empty(FaultsAfter(week =>
    {
        week["nights"]![1] = Json("""{ "id": "fri", "opens": "2027-03-27T18:30", "closes": "2027-03-28T01:30" }""");
        week["crew"]![2]!["available"]![0]!["to"] = "2027-03-27T22:00";
        week["launch"] = "2027-03-28T09:00";
    }));

    [Fact]
    public void Faults_of_different_kinds_are_found_at_once_in_the_order_of_the_file() =>
        Assert.Equal(
            ["/launch", "/store/zones/1/id", "/crew/0/ratePerHour", "/crew/1/available/0/night", "/kits/0/colour",
                "/tasks/1/after/0/task", "/tasks/6/due"],
            FaultsAfter(week =>
            {
                week["launch"] = "2027-13-13T09:00";
                week["store"]!["zones"]![1]!["id"] = "Floor";
                week["crew"]![0]!["ratePerHour"] = -1;
                week["crew"]![1]!["available"]![0]!["night"] = "sat";
                week["kits"]![0]!["colour"] = "red";
                week["tasks"]![1]!["after"]![0]!["task"] = "wall.third-coat";
                week["tasks"]![6]!["due"] = "mon";
            }).Select(fault => fault.Pointer));

    [Theory]
    [InlineData("/pins/0/stint", """{ "task": "TASK", "stint": 9 }""")]
    [InlineData("/pins/0/from", """{ "task": "TASK", "from": "2020-01-01T12:00" }""")]
    [InlineData("/pins/0/from", """{ "person": "PERSON", "night": "NIGHT", "from": "2020-01-01T12:00" }""")]
    [InlineData("/pins/0/to", """{ "person": "PERSON", "night": "NIGHT", "to": "2040-01-01T12:00" }""")]
    [InlineData("/pins/0/off", """{ "person": "PERSON", "night": "NIGHT", "off": true, "from": "OPENS" }""")]
    public void A_pin_that_no_plan_could_agree_with_is_a_fault(string pointer, string pin) =>
        DetailOfOnlyFault(pointer, week => week["pins"] = Json("[" + pin
            .Replace("TASK", (string)week["tasks"]![0]!["id"]!).Replace("PERSON", (string)week["crew"]![0]!["id"]!)
            .Replace("NIGHT", (string)week["nights"]![0]!["id"]!).Replace("OPENS", (string)week["nights"]![0]!["opens"]!) + "]"));
}
