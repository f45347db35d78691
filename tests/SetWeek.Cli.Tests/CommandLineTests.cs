using System.Text.Json.Nodes;

namespace SetWeek.Cli.Tests;

/// <summary>The output, the files and the exit codes of plan and check.</summary>
public sealed class CommandLineTests : IDisposable
{
    private readonly Shell shell = new();

    public void Dispose() => shell.Dispose();

    [Fact]
    public async Task Check_ends_with_0_for_a_plan_that_breaks_no_rule()
    {
        var result = await shell.Run("check", Shell.BellYard, Shell.BellYardPlan);
        Assert.Equal((0, ""), (result.Code, result.Errors));
        Assert.Contains("keeps every rule", result.Output);
        Assert.Contains("£264.05", result.Output);
    }

    [Fact]
    public async Task Check_ends_with_5_and_lists_every_broken_rule()
    {
        var plan = shell.Changed(Shell.BellYardPlan, "bad.plan.json", root =>
        {
            root["nights"]![0]!["keyholder"] = "bo";
            root["nights"]![1]!["work"]![1]!["people"]![0]!["person"] = "ada";
        });
        var result = await shell.Run("check", Shell.BellYard, plan);
        Assert.Equal(5, result.Code);
        foreach (var rule in new[] { "keyholder:", "skill:", "one-place:" }) Assert.Contains(rule, result.Output);
    }

    [Fact]
    public async Task Check_ends_with_1_if_only_a_figure_of_the_file_is_wrong()
    {
        var plan = shell.Changed(Shell.BellYardPlan, "wrong.plan.json",
            root => root["goals"]!.AsArray().Single(goal => (string?)goal!["goal"] == "cost")!["value"] = 26406);
        var result = await shell.Run("check", Shell.BellYard, plan);
        Assert.Equal(1, result.Code);
        Assert.Contains("The plan says that cost is 26406; it is 26405.", result.Output);
    }

    [Fact]
    public async Task Invalid_input_ends_with_2_and_lists_every_fault_on_standard_error()
    {
        var week = shell.Changed(Shell.BellYard, "bad.week.json", root =>
        {
            root["tasks"]![0]!["zone"] = "attic";
            root["crew"]![0]!["ratePerHour"] = "much";
            root["launch"] = "2027-13-13T09:00";
        });
        var result = await shell.Run("plan", week, "--out", shell.PathOf("none.json"));
        Assert.Equal((2, ""), (result.Code, result.Output));
        foreach (var pointer in new[] { "/tasks/0/zone", "/crew/0/ratePerHour", "/launch" })
            Assert.Contains($"{week}: {pointer}: ", result.Errors);
        Assert.False(File.Exists(shell.PathOf("none.json")));
    }

    [Theory]
    [InlineData("plan"), InlineData("replan"), InlineData("what-if"), InlineData("check"), InlineData("why"), InlineData("risk")]
    [InlineData("serve"), InlineData("token"), InlineData("demo")]
    public async Task Every_command_has_help(string command)
    {
        var result = await shell.Run(command, "--help");
        Assert.Equal((0, ""), (result.Code, result.Errors));
        Assert.Contains($"setweek {command}", result.Output);
    }

    [Theory]
    [InlineData("plan")]
    [InlineData("plan", "no-such-file.json")]
    [InlineData("plan", "week.json", "--seconds", "0")]
    [InlineData("plan", "week.json", "--seconds", "1", "--effort", "1")]
    [InlineData("plan", "week.json", "--out", "no/such/folder/plan.json")]
    [InlineData("replan", "week.json", "--now", "2027-03-11T21:35")]
    [InlineData("replan", "week.json", "--published", "plan.json", "--now", "tonight")]
    [InlineData("what-if", "week.json")]
    [InlineData("risk", "week.json")]
    [InlineData("risk", "week.json", "plan.json", "--runs", "0")]
    [InlineData("risk", "week.json", "plan.json", "--spread", "120-80")]
    [InlineData("risk", "week.json", "plan.json", "--progress", "progress.json")]
    [InlineData("what-if", "week.json", "changes.json", "--published", "plan.json")]
    [InlineData("why", "week.json", "plan.json")]
    [InlineData("why", "week.json", "plan.json", "task", "--stint", "0")]
    [InlineData("why", "week.json", "plan.json", "task", "--now", "2027-03-11T21:35")]
    [InlineData("plant", "week.json")]
    public async Task An_invalid_command_line_ends_with_2(params string[] arguments)
    {
        var result = await shell.Run(arguments);
        Assert.Equal((2, ""), (result.Code, result.Output));
        Assert.NotEmpty(result.Errors);
    }

    [Theory]
    [InlineData("--seconds needs a number, for example 10.", "plan", "week.json", "--seconds", "ten")]
    [InlineData("--seconds needs a number, for example 10.", "plan", "week.json", "--seconds", "NaN")]
    [InlineData("--seconds needs a number, for example 10.", "plan", "week.json", "--seconds", "Infinity")]
    [InlineData("--seconds needs a number above 0 and at most 86400.", "plan", "week.json", "--seconds", "0")]
    [InlineData("--workers needs a whole number from 1 to 64.", "plan", "week.json", "--workers", "99999999999999999999")]
    [InlineData("--effort needs a number, for example 2.", "what-if", "week.json", "changes.json", "--effort", "much")]
    [InlineData("--workers needs a whole number, for example 2.", "plan", "week.json", "--workers", "1.5")]
    [InlineData("--workers needs a whole number from 1 to 64.", "plan", "week.json", "--workers", "65")]
    [InlineData("--seed needs a whole number from 0 to 2147483647.", "plan", "week.json", "--seed", "2147483648")]
    [InlineData("--runs needs a whole number, for example 10000.", "risk", "week.json", "plan.json", "--runs", "many")]
    [InlineData("--grace needs a whole number, for example 15.", "risk", "week.json", "plan.json", "--grace", "some")]
    [InlineData("--stint needs a whole number, for example 2.", "why", "week.json", "plan.json", "task", "--stint", "two")]
    [InlineData("--seconds needs a whole number, for example 6.", "demo", "--seconds", "six")]
    [InlineData("--url needs an address, for example http://127.0.0.1:5080.", "demo", "--url", "nowhere")]
    [InlineData("--hours needs a whole number, for example 12.",
        "token", "--tenant", "quillmere", "--person", "lena", "--role", "lead", "--store", "mill-lane", "--hours", "long")]
    public async Task An_invalid_option_is_named_with_a_valid_value(string message, params string[] arguments)
    {
        var ended = await shell.Run(arguments);
        Assert.Equal((2, ""), (ended.Code, ended.Output));
        Assert.StartsWith(message, ended.Errors);
    }

    [Theory]
    [InlineData("http://127.0.0.1:5080", 0), InlineData("http://0.0.0.0:5080", 2), InlineData("http://setweek.example", 2)]
    public async Task A_sign_in_link_is_printed_for_a_service_on_loopback_alone(string url, int code)
    {
        using var process = shell.Start("env", $"SETWEEK_URLS={url}", "dotnet", Shell.Program, "token", "--link",
            "--tenant", "quillmere", "--person", "lena", "--role", "region", "--store", "mill-lane");
        var (output, errors) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
        await process.WaitForExitAsync();
        Assert.Equal(code, process.ExitCode);
        if (code == 0) Assert.Matches(@"^http://127\.0\.0\.1:5080/sign-in/[\w-]+\.[\w-]+\.[\w-]+\n$", await output);
        else Assert.StartsWith("--link is for a service on loopback alone", await errors);
    }

    [Fact]
    public async Task A_plan_is_printed_as_JSON_and_written_without_temporary_files()
    {
        var path = shell.PathOf("plan.json");
        var result = await shell.Run("plan", shell.EasyWeek(), "--json", "--out", path, "--effort", "0.3", "--seed", "7");
        Assert.Equal((0, ""), (result.Code, result.Errors));
        Assert.Equal(result.Output, await File.ReadAllTextAsync(path));
        Assert.Equal(0, (await shell.Run("check", shell.EasyWeek(), path)).Code);
        Assert.DoesNotContain(shell.Files, file => file.Name.EndsWith(".part", StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_same_effort_and_seed_give_the_same_file()
    {
        string[] arguments = ["plan", shell.EasyWeek(), "--json", "--effort", "0.3", "--seed", "3", "--workers", "1"];
        Assert.Equal((await shell.Run(arguments)).Output, (await shell.Run(arguments)).Output);
    }

    [Fact]
    public async Task The_default_output_lists_the_plan_by_night()
    {
        var result = await shell.Run("plan", shell.EasyWeek(), "--effort", "0.3");
        Assert.Equal(0, result.Code);
        foreach (var words in new[] { "Monday 8 March, 20:00 to 02:00 (6 h)", "Move the rails", "Sales floor", "Ada",
            "Nothing is left out.", "Wages" })
            Assert.Contains(words, result.Output);
    }

    // The kit arrives after the only night.
    [Fact]
    public async Task An_infeasible_week_ends_with_3_its_conflict_and_its_repairs()
    {
        var path = shell.PathOf("none.json");
        var result = await shell
            .Run("plan", shell.EasyWeek(root => root["kits"]![0]!["eta"] = "2027-03-09T03:00"), "--seconds", "5", "--out", path);
        Assert.Equal(3, result.Code);
        Assert.Contains("No plan exists", result.Errors);
        foreach (var words in new[] { "No plan can meet all of these", "(kit)", "resolves the conflict (proven)",
            "makes a plan possible (proven)", "arrives by", "Wages: " })
            Assert.Contains(words, result.Output);
        Assert.False(File.Exists(path));
    }

    [Fact]
    public async Task Certainty_shows_plans_and_how_near_the_surest_comes_and_why_there_is_none()
    {
        var result = await shell.Run("plan", Shell.BellYard, "--certainty", "--effort", "2");
        Assert.Equal((0, ""), (result.Code, result.Errors));
        foreach (var words in new[] { "the cheapest", "95 % interval", "The surest of these plans holds in ",
            "--chance" })
            Assert.Contains(words, result.Output);
        result = await shell.Run("plan", shell.EasyWeek(root => root["kits"]![0]!["eta"] = "2027-03-09T03:00"), "--certainty",
            "--effort", "4");
        Assert.Equal(3, result.Code);
        Assert.Contains("No plan can meet all of these", result.Output);
    }

    // Nine people on shift are more than the crew has, so no display can be built, and two displays are musts. The display of a
    // last task is never left out, so the week has none here.
    [Fact]
    public async Task Two_changes_are_offered_where_no_single_one_suffices()
    {
        var result = await shell.Run("plan", await WithNinePeopleRequired(week =>
            week["tasks"]!.AsArray().Last()!.AsObject().Remove("last")), "--seconds", "6");
        Assert.Equal(3, result.Code);
        Assert.Contains("“Finish” is left out. “Feature wall” is left out.", result.Output);
        Assert.DoesNotContain("no pair of changes", result.Output);
    }

    // With the canopy there are three musts, so two changes do not suffice.
    [Fact]
    public async Task A_week_without_a_known_repair_says_so()
    {
        var result = await shell.Run("plan", await WithNinePeopleRequired(week =>
        {
            week["displays"]![1]!["commitment"] = "must";
            week["displays"]![1]!.AsObject().Remove("value");
        }), "--seconds", "4");
        Assert.Equal(3, result.Code);
        Assert.DoesNotContain("makes a plan possible", result.Output);
        Assert.Contains("no pair of changes", result.Output);
    }

    private async Task<string> WithNinePeopleRequired(Action<JsonNode> change)
    {
        var week = JsonNode.Parse(await File.ReadAllTextAsync(Shell.BellYard))!;
        week["rules"]!["minPeople"] = 9;
        change(week);
        await File.WriteAllTextAsync(shell.PathOf("nine.json"), week.ToJsonString());
        return shell.PathOf("nine.json");
    }

    [Fact]
    public async Task A_search_that_finds_no_plan_in_time_ends_with_4()
    {
        var path = shell.PathOf("none.json");
        var result = await shell.Run("plan", Shell.Example("harbour-street.week.json"), "--seconds", "0.000001", "--out", path);
        Assert.Equal(4, result.Code);
        Assert.Contains("No plan was found in the time given", result.Errors);
        Assert.False(File.Exists(path));
    }

    // The solver installs a SIGINT handler of its own, which aborted the process while several solves were running.
    [Theory]
    [InlineData("INT")]
    [InlineData("TERM")]
    public async Task An_interrupt_ends_the_search_with_the_best_plan_so_far(string signal)
    {
        var path = shell.PathOf("interrupted.json");
        // The process that runs the tests may ignore SIGINT, and child processes inherit that.
        using var process = shell.Start("env", "--default-signal=INT", "dotnet", Shell.Program, "plan",
            Shell.Example("harbour-street.week.json"), "--seconds", "300", "--out", path);
        var (output, errors) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
        await Task.Delay(TimeSpan.FromSeconds(10));
        using (var kill = shell.Start("kill", $"-{signal}", $"{process.Id}")) await kill.WaitForExitAsync();
        await process.WaitForExitAsync(new CancellationTokenSource(TimeSpan.FromSeconds(60)).Token);
        Assert.Equal((0, ""), (process.ExitCode, await errors));
        Assert.Contains("Wages", await output);
        Assert.Equal(0, (await shell.Run("check", Shell.Example("harbour-street.week.json"), path)).Code);
    }
}
