using System.Text.Json.Nodes;

namespace SetWeek.Cli.Tests;

/// <summary>What is asked of a plan at a terminal: why it is so, what would be if, how likely it is to hold.</summary>
public sealed class AskingCommandTests : IDisposable
{
    private readonly Shell shell = new();

    public void Dispose() => shell.Dispose();

    /// <summary>The example's first coat ends 21:20 and dries two hours.</summary>
    [Fact]
    public async Task Why_a_task_is_where_it_is_is_said_in_sentences_and_as_JSON()
    {
        var told = await shell.Run("why", Shell.BellYard, Shell.BellYardPlan, "wall.second-coat", "--seconds", "2");
        Assert.Equal((0, ""), (told.Code, told.Errors));
        Assert.Contains("First coat dries until Thu 11 Mar 23:20.", told.Output);
        Assert.Contains("Instead of Ada", told.Output);
        Assert.Contains("Without the skill: Cy.", told.Output);
        var json = await shell.Run("why", Shell.BellYard, Shell.BellYardPlan, "wall.second-coat", "--seconds", "2", "--json");
        Assert.Equal("drying", (string?)JsonNode.Parse(json.Output)!["here"]!["holds"]![0]!["rule"]);
        Assert.Equal(2, (await shell.Run("why", Shell.BellYard, Shell.BellYardPlan, "wall.third-coat")).Code);
        Assert.Equal(2, (await shell.Run("why", Shell.BellYard, Shell.BellYardPlan, "wall.second-coat", "--stint", "2")).Code);
    }

    [Fact]
    public async Task Of_a_plan_that_breaks_rules_it_is_not_said_why()
    {
        var broken = shell.PathOf("broken.json");
        var plan = JsonNode.Parse(await File.ReadAllTextAsync(Shell.BellYardPlan))!;
        plan["nights"]![0]!["work"]![0]!["to"] = "2027-03-11T21:25:00+00:00";
        await File.WriteAllTextAsync(broken, plan.ToJsonString());
        var told = await shell.Run("why", Shell.BellYard, broken, "wall.second-coat");
        Assert.Equal((1, ""), (told.Code, told.Output));
        Assert.Contains("whole: ", told.Errors);
        Assert.Contains("so it cannot be explained", told.Errors);
    }

    [Fact]
    public async Task Changes_are_tried_and_set_beside_the_week_without_them()
    {
        var changes = shell.PathOf("changes.json");
        await File.WriteAllTextAsync(changes,
            """[{"kind": "kit", "kit": "canopy", "eta": null}, {"op": "replace", "path": "/currency", "value": "EUR"}]""");
        var ended = await shell.Run("what-if", Shell.BellYard, changes, "--effort", "2");
        Assert.Equal((0, ""), (ended.Code, ended.Errors));
        Assert.Contains("Tried: The arrival of the kit “Canopy", ended.Output);
        Assert.Contains("The week as it stands", ended.Output);
        Assert.Contains("Banner instead of the canopy replaces Rain canopy.", ended.Output);

        await File.WriteAllTextAsync(changes,
            """[{"kind": "kit", "kit": "tent", "eta": null}, {"op": "remove", "path": "/tent"}]""");
        ended = await shell.Run("what-if", Shell.BellYard, changes);
        Assert.Equal((2, ""), (ended.Code, ended.Output));
        foreach (var pointer in new[] { "/0/kit", "/1/path" }) Assert.Contains($"{changes}: {pointer}: ", ended.Errors);
    }

    /// <summary>Bell Yard has one task that is uncertain, and room for it.</summary>
    [Fact]
    public async Task A_plan_is_put_to_chance_and_said_in_plain_words()
    {
        var ended = await shell.Run("risk", Shell.BellYard, Shell.BellYardPlan, "--runs", "500", "--only-chances");
        Assert.Equal((0, ""), (ended.Code, ended.Errors));
        Assert.Contains("In 500 simulated weeks without re-planning, all were ready by launch.", ended.Output);
        foreach (var words in new[] { "1 task is uncertain", "Hang the canopy", "Friday 12 March", "no promise" })
            Assert.Contains(words, ended.Output);

        var json =
            JsonNode.Parse(
                (await shell.Run("risk", Shell.BellYard, Shell.BellYardPlan, "--runs", "500", "--seed", "3", "--spread",
                    "80-200", "--json")).Output)!;
        Assert.Equal((500, 3), ((int)json["runs"]!, (int)json["seed"]!));
        Assert.True((int)json["uncertainTasks"]! > 1);
        Assert.InRange((double)json["launch"]!["share"]!, 0, 1);
        Assert.NotNull(json["helps"]!["tried"]);
    }

    [Fact]
    public async Task In_the_middle_of_a_week_chances_are_those_from_now_on()
    {
        var ended = await shell.Run("risk", Shell.BellYard, Shell.BellYardPlan, "--runs", "100", "--only-chances",
            "--now", "2027-03-11T21:35", "--progress", Shell.Example("bell-yard.progress.json"));
        Assert.Equal((0, ""), (ended.Code, ended.Errors));
        Assert.Contains("ready by launch", ended.Output);
    }

    [Fact]
    public async Task A_plan_that_breaks_rules_is_not_put_to_chance()
    {
        var plan = shell.Changed(Shell.BellYardPlan, "bad-risk.plan.json", root => root["nights"]![0]!["keyholder"] = "bo");
        var ended = await shell.Run("risk", Shell.BellYard, plan);
        Assert.Equal((1, ""), (ended.Code, ended.Output));
        Assert.Contains("keyholder:", ended.Errors);
    }
}
