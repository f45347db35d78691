namespace SetWeek.Cli.Tests;

/// <summary>Planning again at a terminal: what is checked against what, the options, and what has to be told.</summary>
public sealed class ReplanCommandTests : IDisposable
{
    private readonly Shell shell = new();

    public void Dispose() => shell.Dispose();

    // It is late in the night: the work has begun at 20:07, which no plan may choose; as a fact of the re-plan it is right.
    [Fact]
    public async Task A_re_plan_is_checked_against_what_it_was_made_from()
    {
        var (week, published) = (shell.EasyWeek(), shell.PathOf("published.json"));
        var (progress, plan) = (shell.PathOf("progress.json"), shell.PathOf("replan.json"));
        Assert.Equal(0, (await shell.Run("plan", week, "--effort", "0.3", "--out", published)).Code);
        File.WriteAllText(progress,
            """[{"task": "rails.move", "stint": 1, "state": "running", "from": "2027-03-08T20:07:00Z"}]""");
        string[] facts = ["--published", published, "--now", "2027-03-08T20:30", "--progress", progress];
        Assert.Equal(0, (await shell.Run(["replan", week, .. facts, "--effort", "0.5", "--out", plan])).Code);
        Assert.Equal(0, (await shell.Run(["check", week, plan, .. facts])).Code);
        var alone = await shell.Run("check", week, plan);
        Assert.Equal(1, alone.Code);
        Assert.Contains("grid:", alone.Output);
    }

    [Fact]
    public async Task The_options_of_a_re_plan_stand_side_by_side_and_one_of_them_is_written()
    {
        var (week, published) = (shell.EasyWeek(), shell.PathOf("published.json"));
        Assert.Equal(0, (await shell.Run("plan", week, "--effort", "0.3", "--out", published)).Code);
        var late = shell.EasyWeek(root => root["kits"]![0]!["eta"] = "2027-03-08T23:00");
        string[] replan = ["replan", late, "--published", published, "--now", "2027-03-08T12:00", "--effort", "0.5"];
        var shown = await shell.Run(replan);
        foreach (var words in new[] { "fewest-changes", "Changes to the published plan", "People to tell" })
            Assert.Contains(words, shown.Output);
        Assert.Equal(0, (await shell.Run([.. replan, "--option", "fewest-changes"])).Code);
        var unknown = await shell.Run([.. replan, "--option", "by-magic"]);
        Assert.Equal(2, unknown.Code);
        Assert.Contains("fewest-changes", unknown.Errors);
    }

    [Fact]
    public async Task A_re_plan_says_what_moved_who_must_be_told_and_what_it_costs()
    {
        var (week, published) = (shell.EasyWeek(), shell.PathOf("published.json"));
        Assert.Equal(0, (await shell.Run("plan", week, "--effort", "0.3", "--out", published)).Code);
        var late = shell.EasyWeek(root => root["kits"]![0]!["eta"] = "2027-03-08T23:00");
        var ended = await shell.Run("replan", late, "--published", published, "--now", "2027-03-08T12:00", "--effort", "0.5");
        Assert.Equal(0, ended.Code);
        foreach (var words in new[] { "People to tell:", "Ada: Monday 8 March: your shift is", "Wages: " })
            Assert.Contains(words, ended.Output);
    }
}
