using System.Text.Json.Nodes;

namespace SetWeek.Cli.Tests;

/// <summary>What the program prints, what it writes and how it ends when it plans and checks.</summary>
public sealed class CommandLineTests : IDisposable
{
    private readonly Shell shell = new();

    public void Dispose() => shell.Dispose();

    [Fact]
    public async Task A_plan_that_keeps_every_rule_is_checked_with_0()
    {
        var ended = await shell.Run("check", Shell.BellYard, Shell.BellYardPlan);
        Assert.Equal((0, ""), (ended.Code, ended.Errors));
        Assert.Contains("keeps every rule", ended.Output);
        Assert.Contains("£264.05", ended.Output);
    }

    [Fact]
    public async Task A_plan_that_breaks_rules_is_checked_with_1_and_each_is_said()
    {
        var plan = shell.Changed(Shell.BellYardPlan, "bad.plan.json", root =>
        {
            root["nights"]![0]!["keyholder"] = "bo";
            root["nights"]![1]!["work"]![1]!["people"]![0]!["person"] = "ada";
        });
        var ended = await shell.Run("check", Shell.BellYard, plan);
        Assert.Equal(1, ended.Code);
        foreach (var rule in new[] { "keyholder:", "skill:", "one-place:" }) Assert.Contains(rule, ended.Output);
    }

    [Fact]
    public async Task Bad_input_ends_with_2_and_every_fault_with_its_pointer_on_standard_error()
    {
        var week = shell.Changed(Shell.BellYard, "bad.week.json", root =>
        {
            root["tasks"]![0]!["zone"] = "attic";
            root["crew"]![0]!["ratePerHour"] = "much";
            root["launch"] = "2027-13-13T09:00";
        });
        var ended = await shell.Run("plan", week, "--out", shell.PathOf("none.json"));
        Assert.Equal((2, ""), (ended.Code, ended.Output));
        foreach (var pointer in new[] { "/tasks/0/zone", "/crew/0/ratePerHour", "/launch" })
            Assert.Contains($"{week}: {pointer}: ", ended.Errors);
        Assert.False(File.Exists(shell.PathOf("none.json")));
    }

    [Theory]
    [InlineData("plan"), InlineData("replan"), InlineData("what-if"), InlineData("check"), InlineData("why"), InlineData("risk")]
    [InlineData("serve"), InlineData("token"), InlineData("demo")]
    public async Task Every_command_says_what_it_takes(string command)
    {
        var ended = await shell.Run(command, "--help");
        Assert.Equal((0, ""), (ended.Code, ended.Errors));
        Assert.Contains($"setweek {command}", ended.Output);
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
    public async Task A_command_line_that_makes_no_sense_ends_with_2(params string[] arguments)
    {
        var ended = await shell.Run(arguments);
        Assert.Equal((2, ""), (ended.Code, ended.Output));
        Assert.NotEmpty(ended.Errors);
    }

    [Theory]
    [InlineData("--seconds needs a number, for example 10.", "plan", "week.json", "--seconds", "ten")]
    [InlineData("--seconds needs a number above 0 and at most 86400.", "plan", "week.json", "--seconds", "NaN")]
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

    [Fact]
    public async Task A_plan_is_printed_as_its_file_and_written_beside_nothing_else()
    {
        var path = shell.PathOf("plan.json");
        var ended = await shell.Run("plan", shell.EasyWeek(), "--json", "--out", path, "--effort", "0.3", "--seed", "7");
        Assert.Equal((0, ""), (ended.Code, ended.Errors));
        Assert.Equal(ended.Output, await File.ReadAllTextAsync(path));
        Assert.Equal(0, (await shell.Run("check", shell.EasyWeek(), path)).Code);
        Assert.DoesNotContain(shell.Files, file => file.Name.EndsWith(".part", StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_same_effort_and_seed_give_the_same_bytes()
    {
        string[] arguments = ["plan", shell.EasyWeek(), "--json", "--effort", "0.3", "--seed", "3", "--workers", "1"];
        Assert.Equal((await shell.Run(arguments)).Output, (await shell.Run(arguments)).Output);
    }

    [Fact]
    public async Task People_get_the_week_night_by_night()
    {
        var ended = await shell.Run("plan", shell.EasyWeek(), "--effort", "0.3");
        Assert.Equal(0, ended.Code);
        foreach (var words in new[] { "Monday 8 March, 20:00 to 02:00 (6 h)", "Move the rails", "Sales floor", "Ada",
            "Nothing is left out.", "Wages" })
            Assert.Contains(words, ended.Output);
    }

    // The kit comes after the only night.
    [Fact]
    public async Task No_plan_ends_with_3_the_reason_and_what_is_proven_to_help()
    {
        var path = shell.PathOf("none.json");
        var ended = await shell
            .Run("plan", shell.EasyWeek(root => root["kits"]![0]!["eta"] = "2027-03-09T03:00"), "--seconds", "5", "--out", path);
        Assert.Equal(3, ended.Code);
        Assert.Contains("No plan exists", ended.Errors);
        foreach (var words in new[] { "No plan can meet all of these", "(kit)", "resolves the conflict (proven)",
            "makes a plan possible (proven)", "arrives by", "Wages: " })
            Assert.Contains(words, ended.Output);
        Assert.False(File.Exists(path));
    }

    // Nine on shift at all times are more than the week has: nothing can stand, and two displays must.
    [Fact]
    public async Task Where_no_single_change_helps_two_are_told_together()
    {
        var ended = await shell.Run("plan", await Nine(_ => { }), "--seconds", "6");
        Assert.Equal(3, ended.Code);
        Assert.Contains("“Finish” is left out. “Feature wall” is left out.", ended.Output);
        Assert.DoesNotContain("nor two together", ended.Output);
    }

    // The canopy must stand as well.
    [Fact]
    public async Task Where_nothing_was_found_that_helps_that_is_said()
    {
        var ended = await shell.Run("plan", await Nine(week =>
        {
            week["displays"]![1]!["commitment"] = "must";
            week["displays"]![1]!.AsObject().Remove("value");
        }), "--seconds", "4");
        Assert.Equal(3, ended.Code);
        Assert.DoesNotContain("makes a plan possible", ended.Output);
        Assert.Contains("nor two together", ended.Output);
    }

    private async Task<string> Nine(Action<JsonNode> change)
    {
        var week = JsonNode.Parse(await File.ReadAllTextAsync(Shell.BellYard))!;
        week["rules"]!["minPeople"] = 9;
        change(week);
        await File.WriteAllTextAsync(shell.PathOf("nine.json"), week.ToJsonString());
        return shell.PathOf("nine.json");
    }

    [Fact]
    public async Task None_found_in_the_time_given_ends_with_4_and_is_not_called_impossible()
    {
        var path = shell.PathOf("none.json");
        var ended = await shell.Run("plan", Shell.Example("harbour-street.week.json"), "--seconds", "0.000001", "--out", path);
        Assert.Equal(4, ended.Code);
        Assert.Contains("No plan was found in the time given", ended.Errors);
        Assert.False(File.Exists(path));
    }

    // The solver has a way of its own with SIGINT, which aborted the process where several solves were under way.
    [Theory]
    [InlineData("INT")]
    [InlineData("TERM")]
    public async Task An_interrupt_ends_the_search_with_the_best_plan_so_far(string signal)
    {
        var path = shell.PathOf("interrupted.json");
        // Whoever runs the tests may ignore SIGINT, and children inherit that.
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
