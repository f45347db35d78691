namespace SetWeek.Cli.Tests;

/// <summary>The command replan: its check, its options and its notifications.</summary>
public sealed class ReplanCommandTests : IDisposable
{
    private readonly Shell shell = new();

    public void Dispose() => shell.Dispose();

    // The work began at 20:07, off the grid. No plan may choose that start, but a re-plan takes it from the report.
    [Fact]
    public async Task A_replan_is_checked_with_its_published_plan_and_progress()
    {
        var (week, published) = (shell.EasyWeek(), shell.PathOf("published.json"));
        var (progress, plan) = (shell.PathOf("progress.json"), shell.PathOf("replan.json"));
        Assert.Equal(0, (await shell.Run("plan", week, "--effort", "0.3", "--out", published)).Code);
        File.WriteAllText(progress,
            """[{"task": "rails.move", "stint": 1, "state": "running", "from": "2027-03-08T20:07:00Z"}]""");
        string[] replanArguments = ["--published", published, "--now", "2027-03-08T20:30", "--progress", progress];
        Assert.Equal(0, (await shell.Run(["replan", week, .. replanArguments, "--effort", "0.5", "--out", plan])).Code);
        Assert.Equal(0, (await shell.Run(["check", week, plan, .. replanArguments])).Code);
        var withoutReplan = await shell.Run("check", week, plan);
        Assert.Equal(5, withoutReplan.Code);
        Assert.Contains("grid:", withoutReplan.Output);
    }

    [Fact]
    public async Task A_replan_lists_its_options_and_writes_the_chosen_one()
    {
        var (week, published) = (shell.EasyWeek(), shell.PathOf("published.json"));
        Assert.Equal(0, (await shell.Run("plan", week, "--effort", "0.3", "--out", published)).Code);
        var late = shell.EasyWeek(root => root["kits"]![0]!["eta"] = "2027-03-08T23:00");
        string[] replan = ["replan", late, "--published", published, "--now", "2027-03-08T12:00", "--effort", "0.5"];
        var shown = await shell.Run(replan);
        foreach (var words in new[] { "fewest-changes", "Changes to the published plan", "People to tell",
            "Holds, of simulated weeks", "95 % interval", "Nothing half-secured" })
            Assert.Contains(words, shown.Output);
        Assert.Equal(0, (await shell.Run([.. replan, "--option", "fewest-changes"])).Code);
        var unknown = await shell.Run([.. replan, "--option", "by-magic"]);
        Assert.Equal(2, unknown.Code);
        Assert.Contains("fewest-changes", unknown.Errors);
    }

    [Fact]
    public async Task A_replan_lists_changes_notifications_and_cost()
    {
        var (week, published) = (shell.EasyWeek(), shell.PathOf("published.json"));
        Assert.Equal(0, (await shell.Run("plan", week, "--effort", "0.3", "--out", published)).Code);
        var late = shell.EasyWeek(root => root["kits"]![0]!["eta"] = "2027-03-08T23:00");
        var result = await shell.Run("replan", late, "--published", published, "--now", "2027-03-08T12:00", "--effort", "0.5");
        Assert.Equal(0, result.Code);
        foreach (var words in new[] { "People to tell:", "Ada: Monday 8 March: your shift is", "Wages: " })
            Assert.Contains(words, result.Output);
    }
}
