using System.Text.Json.Nodes;

namespace SetWeek.Cli.Tests;

/// <summary>The commands that analyse a plan: why, what-if and risk.</summary>
public sealed class AskingCommandTests : IDisposable
{
    private readonly Shell shell = new();

    public void Dispose() => shell.Dispose();

    /// <summary>In the example the first coat ends at 21:20 and dries for two hours.</summary>
    [Fact]
    public async Task Why_explains_a_task_in_sentences_and_as_JSON()
    {
        var result = await shell.Run("why", Shell.BellYard, Shell.BellYardPlan, "wall.second-coat", "--seconds", "2");
        Assert.Equal((0, ""), (result.Code, result.Errors));
        Assert.Contains("“First coat” dries until Thu 11 Mar 23:20.", result.Output);
        Assert.Contains("Instead of Ada", result.Output);
        Assert.Contains("Without the skill: Cy.", result.Output);
        var json = await shell.Run("why", Shell.BellYard, Shell.BellYardPlan, "wall.second-coat", "--seconds", "2", "--json");
        Assert.Equal("drying", (string?)JsonNode.Parse(json.Output)!["here"]!["holds"]![0]!["rule"]);
        Assert.Equal(2, (await shell.Run("why", Shell.BellYard, Shell.BellYardPlan, "wall.third-coat")).Code);
        Assert.Equal(2, (await shell.Run("why", Shell.BellYard, Shell.BellYardPlan, "wall.second-coat", "--stint", "2")).Code);
    }

    [Fact]
    public async Task Why_refuses_a_plan_that_breaks_rules()
    {
        var broken = shell.PathOf("broken.json");
        var plan = JsonNode.Parse(await File.ReadAllTextAsync(Shell.BellYardPlan))!;
        plan["nights"]![0]!["work"]![0]!["to"] = "2027-03-11T21:25:00+00:00";
        await File.WriteAllTextAsync(broken, plan.ToJsonString());
        var result = await shell.Run("why", Shell.BellYard, broken, "wall.second-coat");
        Assert.Equal((1, ""), (result.Code, result.Output));
        Assert.Contains("whole: ", result.Errors);
        Assert.Contains("so it cannot be explained", result.Errors);
    }

    [Fact]
    public async Task What_if_compares_the_changed_week_with_the_unchanged_one()
    {
        var changes = shell.PathOf("changes.json");
        await File.WriteAllTextAsync(changes,
            """[{"kind": "kit", "kit": "canopy", "eta": null}, {"op": "replace", "path": "/currency", "value": "EUR"}]""");
        var result = await shell.Run("what-if", Shell.BellYard, changes, "--effort", "2");
        Assert.Equal((0, ""), (result.Code, result.Errors));
        Assert.Contains("Tried: The arrival of the kit “Canopy", result.Output);
        Assert.Contains("The week as it stands", result.Output);
        Assert.Contains("Banner instead of the canopy replaces Rain canopy.", result.Output);

        await File.WriteAllTextAsync(changes,
            """[{"kind": "kit", "kit": "tent", "eta": null}, {"op": "remove", "path": "/tent"}]""");
        result = await shell.Run("what-if", Shell.BellYard, changes);
        Assert.Equal((2, ""), (result.Code, result.Output));
        foreach (var pointer in new[] { "/0/kit", "/1/path" }) Assert.Contains($"{changes}: {pointer}: ", result.Errors);
    }

    /// <summary>Bell Yard has one uncertain task, and enough time for it.</summary>
    [Fact]
    public async Task Risk_reports_a_simulation_of_the_plan()
    {
        var result = await shell.Run("risk", Shell.BellYard, Shell.BellYardPlan, "--runs", "500", "--only-chances");
        Assert.Equal((0, ""), (result.Code, result.Errors));
        Assert.Contains("In 500 simulated weeks without re-planning, in which no night may run over, all were ready by",
            result.Output);
        foreach (var words in new[] { "1 task is uncertain", "Hang the canopy", "Friday 12 March", "no promise" })
            Assert.Contains(words, result.Output);

        var json =
            JsonNode.Parse(
                (await shell.Run("risk", Shell.BellYard, Shell.BellYardPlan, "--runs", "500", "--seed", "3", "--spread",
                    "80-200", "--json")).Output)!;
        Assert.Equal((500, 3), ((int)json["runs"]!, (int)json["seed"]!));
        Assert.True((int)json["uncertainTasks"]! > 1);
        Assert.InRange((double)json["launch"]!["share"]!, 0, 1);
        Assert.NotNull(json["helps"]!["tried"]);
        var both = await shell.Run("risk", Shell.BellYard, Shell.BellYardPlan, "--seconds", "1", "--effort", "1");
        Assert.NotEqual(0, both.Code);
        Assert.Contains("Give --seconds or --effort, not both.", both.Output + both.Errors);
    }

    [Fact]
    public async Task Risk_in_the_middle_of_a_week_simulates_from_now_on()
    {
        var result = await shell.Run("risk", Shell.BellYard, Shell.BellYardPlan, "--runs", "100", "--only-chances",
            "--now", "2027-03-11T21:35", "--progress", Shell.Example("bell-yard.progress.json"));
        Assert.Equal((0, ""), (result.Code, result.Errors));
        Assert.Contains("ready by launch", result.Output);
    }

    [Fact]
    public async Task Risk_refuses_a_plan_that_breaks_rules()
    {
        var plan = shell.Changed(Shell.BellYardPlan, "bad-risk.plan.json", root => root["nights"]![0]!["keyholder"] = "bo");
        var result = await shell.Run("risk", Shell.BellYard, plan);
        Assert.Equal((1, ""), (result.Code, result.Output));
        Assert.Contains("keyholder:", result.Errors);
    }
}
