using System.Diagnostics;
using System.Text.Json.Nodes;
using SetWeek.Scheduling;
using SetWeek.Scheduling.Files;

namespace SetWeek.Service.Tests.Commands;

/// <summary>The program itself, as a shell starts it: what it prints, what it writes, how it ends. None of this needs a database.</summary>
public sealed class CommandLineTests : IDisposable
{
    private static readonly string Project = Above(AppContext.BaseDirectory);
    private static readonly string WeekFilePath = Example("bell-yard.week.json"), PlanFilePath = Example("bell-yard.plan.json");
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("setweek-commands-");

    private sealed record Ended(int Code, string Output, string Errors);

    public void Dispose() => folder.Delete(recursive: true);

    [Fact]
    public async Task A_plan_that_keeps_every_rule_is_checked_with_0()
    {
        var ended = await Run("check", WeekFilePath, PlanFilePath);
        Assert.Equal((0, ""), (ended.Code, ended.Errors));
        Assert.Contains("keeps every rule", ended.Output);
        Assert.Contains("£264.05", ended.Output);
    }

    [Fact]
    public async Task A_plan_that_breaks_rules_is_checked_with_1_and_each_is_said()
    {
        var plan = Changed(PlanFilePath, "bad.plan.json", root =>
        {
            root["nights"]![0]!["keyholder"] = "bo";
            root["nights"]![1]!["work"]![1]!["people"]![0]!["person"] = "ada";
        });
        var ended = await Run("check", WeekFilePath, plan);
        Assert.Equal(1, ended.Code);
        foreach (var rule in new[] { "keyholder:", "skill:", "one-place:" }) Assert.Contains(rule, ended.Output);
    }

    [Fact]
    public async Task Bad_input_ends_with_2_and_every_fault_with_its_pointer_on_standard_error()
    {
        var week = Changed(WeekFilePath, "bad.week.json", root =>
        {
            root["tasks"]![0]!["zone"] = "attic";
            root["crew"]![0]!["ratePerHour"] = "much";
            root["launch"] = "2027-13-13T09:00";
        });
        var ended = await Run("plan", week, "--out", Path.Combine(folder.FullName, "none.json"));
        Assert.Equal((2, ""), (ended.Code, ended.Output));
        foreach (var pointer in new[] { "/tasks/0/zone", "/crew/0/ratePerHour", "/launch" }) Assert.Contains($"{week}: {pointer}: ", ended.Errors);
        Assert.False(File.Exists(Path.Combine(folder.FullName, "none.json")));
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
        var ended = await Run(arguments);
        Assert.Equal((2, ""), (ended.Code, ended.Output));
        Assert.NotEmpty(ended.Errors);
    }

    /// <summary>The example's first coat ends 21:20 and dries two hours.</summary>
    [Fact]
    public async Task Why_a_task_is_where_it_is_is_said_in_sentences_and_as_JSON()
    {
        var told = await Run("why", WeekFilePath, PlanFilePath, "wall.second-coat", "--seconds", "2");
        Assert.Equal((0, ""), (told.Code, told.Errors));
        Assert.Contains("drying: First coat dries until Thu 23:20.", told.Output);
        Assert.Contains("Instead of Ada", told.Output);
        var json = await Run("why", WeekFilePath, PlanFilePath, "wall.second-coat", "--seconds", "2", "--json");
        Assert.Equal("drying", (string?)JsonNode.Parse(json.Output)!["here"]!["holds"]![0]!["rule"]);
        Assert.Equal(2, (await Run("why", WeekFilePath, PlanFilePath, "wall.third-coat")).Code);
        Assert.Equal(2, (await Run("why", WeekFilePath, PlanFilePath, "wall.second-coat", "--stint", "2")).Code);
    }

    [Fact]
    public async Task Changes_are_tried_and_set_beside_the_week_without_them()
    {
        var changes = Path.Combine(folder.FullName, "changes.json");
        await File.WriteAllTextAsync(changes, """[{"kind": "kit", "kit": "canopy", "eta": null}, {"op": "replace", "path": "/currency", "value": "EUR"}]""");
        var ended = await Run("what-if", WeekFilePath, changes, "--effort", "2");
        Assert.Equal((0, ""), (ended.Code, ended.Errors));
        Assert.Contains("Tried: Nobody knows when the kit “Canopy", ended.Output);
        Assert.Contains("The week as it stands", ended.Output);
        Assert.Contains("Banner instead of the canopy stands instead of Rain canopy.", ended.Output);

        await File.WriteAllTextAsync(changes, """[{"kind": "kit", "kit": "tent", "eta": null}, {"op": "remove", "path": "/tent"}]""");
        ended = await Run("what-if", WeekFilePath, changes);
        Assert.Equal((2, ""), (ended.Code, ended.Output));
        foreach (var pointer in new[] { "/0/kit", "/1/path" }) Assert.Contains($"{changes}: {pointer}: ", ended.Errors);
    }

    /// <summary>Bell Yard has one task that is uncertain, and room for it.</summary>
    [Fact]
    public async Task A_plan_is_put_to_chance_and_said_in_plain_words()
    {
        var ended = await Run("risk", WeekFilePath, PlanFilePath, "--runs", "500", "--only-chances");
        Assert.Equal((0, ""), (ended.Code, ended.Errors));
        Assert.Contains("Launch holds in all 500 runs.", ended.Output);
        foreach (var words in new[] { "1 task is uncertain", "Hang the canopy (canopy.hang)", "Friday 12 March", "no promise" })
            Assert.Contains(words, ended.Output);

        var json = JsonNode.Parse((await Run("risk", WeekFilePath, PlanFilePath, "--runs", "500", "--seed", "3", "--spread", "80-200", "--json")).Output)!;
        Assert.Equal((500, 3), ((int)json["runs"]!, (int)json["seed"]!));
        Assert.True((int)json["uncertainTasks"]! > 1);
        Assert.InRange((double)json["launch"]!["share"]!, 0, 1);
        Assert.NotNull(json["helps"]!["tried"]);
    }

    [Fact]
    public async Task In_the_middle_of_a_week_chances_are_those_from_now_on()
    {
        var ended = await Run("risk", WeekFilePath, PlanFilePath, "--runs", "100", "--only-chances",
            "--now", "2027-03-11T21:35", "--progress", Example("bell-yard.progress.json"));
        Assert.Equal((0, ""), (ended.Code, ended.Errors));
        Assert.Contains("Launch holds", ended.Output);
    }

    [Fact]
    public async Task A_plan_that_breaks_rules_is_not_put_to_chance()
    {
        var plan = Changed(PlanFilePath, "bad-risk.plan.json", root => root["nights"]![0]!["keyholder"] = "bo");
        var ended = await Run("risk", WeekFilePath, plan);
        Assert.Equal((1, ""), (ended.Code, ended.Output));
        Assert.Contains("keyholder:", ended.Errors);
    }

    [Fact]
    public async Task A_plan_is_printed_as_its_file_and_written_beside_nothing_else()
    {
        var path = Path.Combine(folder.FullName, "plan.json");
        var ended = await Run("plan", EasyWeek(), "--json", "--out", path, "--effort", "0.3", "--seed", "7");
        Assert.Equal((0, ""), (ended.Code, ended.Errors));
        Assert.Equal(ended.Output, await File.ReadAllTextAsync(path));
        Assert.Equal(0, (await Run("check", EasyWeek(), path)).Code);
        Assert.DoesNotContain(folder.GetFiles(), file => file.Name.EndsWith(".part", StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_same_effort_and_seed_give_the_same_bytes()
    {
        string[] arguments = ["plan", EasyWeek(), "--json", "--effort", "0.3", "--seed", "3", "--workers", "1"];
        Assert.Equal((await Run(arguments)).Output, (await Run(arguments)).Output);
    }

    [Fact]
    public async Task People_get_the_week_night_by_night()
    {
        var ended = await Run("plan", EasyWeek(), "--effort", "0.3");
        Assert.Equal(0, ended.Code);
        foreach (var words in new[] { "Monday 8 March, 20:00 to 02:00 (6 h)", "Move the rails", "Sales floor", "Ada", "Nothing is left out.", "Wages" })
            Assert.Contains(words, ended.Output);
    }

    // The kit comes after the only night.
    [Fact]
    public async Task No_plan_ends_with_3_the_reason_and_what_is_proven_to_help()
    {
        var path = Path.Combine(folder.FullName, "none.json");
        var ended = await Run("plan", EasyWeek(root => root["kits"]![0]!["eta"] = "2027-03-09T03:00"), "--seconds", "5", "--out", path);
        Assert.Equal(3, ended.Code);
        Assert.Contains("No plan exists", ended.Errors);
        foreach (var words in new[] { "cannot hold together", "(kit)", "that is proven", "proven to help", "is in by", "Wages: " })
            Assert.Contains(words, ended.Output);
        Assert.False(File.Exists(path));
    }

    [Fact]
    public async Task None_found_in_the_time_given_ends_with_4_and_is_not_called_impossible()
    {
        var path = Path.Combine(folder.FullName, "none.json");
        var ended = await Run("plan", Example("harbour-street.week.json"), "--seconds", "0.000001", "--out", path);
        Assert.Equal(4, ended.Code);
        Assert.Contains("No plan was found in the time given", ended.Errors);
        Assert.False(File.Exists(path));
    }

    // It is late in the night: the work has begun at 20:07, which no plan may choose; as a fact of the re-plan it is right.
    [Fact]
    public async Task A_re_plan_is_checked_against_what_it_was_made_from()
    {
        var (week, published) = (EasyWeek(), Path.Combine(folder.FullName, "published.json"));
        var (progress, plan) = (Path.Combine(folder.FullName, "progress.json"), Path.Combine(folder.FullName, "replan.json"));
        Assert.Equal(0, (await Run("plan", week, "--effort", "0.3", "--out", published)).Code);
        File.WriteAllText(progress, """[{"task": "rails.move", "stint": 1, "state": "running", "from": "2027-03-08T20:07:00Z"}]""");
        string[] facts = ["--published", published, "--now", "2027-03-08T20:30", "--progress", progress];
        Assert.Equal(0, (await Run(["replan", week, .. facts, "--effort", "0.5", "--out", plan])).Code);
        Assert.Equal(0, (await Run(["check", week, plan, .. facts])).Code);
        var alone = await Run("check", week, plan);
        Assert.Equal(1, alone.Code);
        Assert.Contains("grid:", alone.Output);
    }

    [Fact]
    public async Task The_options_of_a_re_plan_stand_side_by_side_and_one_of_them_is_written()
    {
        var (week, published) = (EasyWeek(), Path.Combine(folder.FullName, "published.json"));
        Assert.Equal(0, (await Run("plan", week, "--effort", "0.3", "--out", published)).Code);
        var late = EasyWeek(root => root["kits"]![0]!["eta"] = "2027-03-08T23:00");
        string[] replan = ["replan", late, "--published", published, "--now", "2027-03-08T12:00", "--effort", "0.5"];
        var shown = await Run(replan);
        foreach (var words in new[] { "fewest-changes", "Changes to what is published", "People to tell" }) Assert.Contains(words, shown.Output);
        Assert.Equal(0, (await Run([.. replan, "--option", "fewest-changes"])).Code);
        var unknown = await Run([.. replan, "--option", "by-magic"]);
        Assert.Equal(2, unknown.Code);
        Assert.Contains("fewest-changes", unknown.Errors);
    }

    [Fact]
    public async Task A_re_plan_says_what_moved_who_must_be_told_and_what_it_costs()
    {
        var (week, published) = (EasyWeek(), Path.Combine(folder.FullName, "published.json"));
        Assert.Equal(0, (await Run("plan", week, "--effort", "0.3", "--out", published)).Code);
        var late = EasyWeek(root => root["kits"]![0]!["eta"] = "2027-03-08T23:00");
        var ended = await Run("replan", late, "--published", published, "--now", "2027-03-08T12:00", "--effort", "0.5");
        Assert.Equal(0, ended.Code);
        foreach (var words in new[] { "To be told:", "Ada: Monday 8 March: your shift is", "Wages: " }) Assert.Contains(words, ended.Output);
    }

    // The solver has a way of its own with SIGINT, which aborted the process where several solves were under way.
    [Theory]
    [InlineData("INT")]
    [InlineData("TERM")]
    public async Task An_interrupt_ends_the_search_with_the_best_plan_so_far(string signal)
    {
        var path = Path.Combine(folder.FullName, "interrupted.json");
        // Whoever runs the tests may ignore SIGINT, and children inherit that.
        using var process = Start("env", "--default-signal=INT", "dotnet", Program, "plan", Example("harbour-street.week.json"), "--seconds", "300", "--out", path);
        var (output, errors) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
        await Task.Delay(TimeSpan.FromSeconds(10));
        using (var kill = Start("kill", $"-{signal}", $"{process.Id}")) await kill.WaitForExitAsync();
        await process.WaitForExitAsync(new CancellationTokenSource(TimeSpan.FromSeconds(60)).Token);
        Assert.Equal((0, ""), (process.ExitCode, await errors));
        Assert.Contains("Wages", await output);
        Assert.Equal(0, (await Run("check", Example("harbour-street.week.json"), path)).Code);
    }

    /// <summary>One night, two people, one task of an hour that needs a kit.</summary>
    private string EasyWeek(Action<JsonNode>? change = null)
    {
        var week = new Week
        {
            Id = "easy", Currency = "GBP", Launch = new(2027, 3, 9, 9, 0),
            Store = new Store { Id = "bell-yard", TimeZone = "Europe/London", Zones = [new("floor", "Sales floor")] },
            Nights = [new("mon", new(2027, 3, 8, 20, 0), new(2027, 3, 9, 2, 0))],
            Crew = [.. new[] { "Ada", "Bo" }.Select(name => new CrewMember
            {
                Id = name.ToLowerInvariant(), Name = name, Skills = new Dictionary<string, int> { ["stock"] = 1 }, RatePerHour = 1200, Available = [new("mon")],
            })],
            Kits = [new("rails", "Rails", new(2027, 3, 8, 14, 0))],
            Displays = [new("rails", "Rails", Promise.Must)],
            Tasks = [new() { Id = "rails.move", Name = "Move the rails", Display = "rails", Zone = "floor", Modes = [new(60, [new("stock", 2)])], Needs = [new("rails")] }],
            Rules = new RuleSet { MinShiftMinutes = 120, MinPeople = 2, ShiftGridMinutes = 15, NoticeMinutes = 1440 },
        };
        var path = Path.Combine(folder.FullName, $"easy{folder.GetFiles().Length}.week.json");
        var root = JsonNode.Parse(WeekFile.Write(week))!;
        change?.Invoke(root);
        File.WriteAllText(path, root.ToJsonString());
        return path;
    }

    private string Changed(string from, string name, Action<JsonNode> change)
    {
        var root = JsonNode.Parse(File.ReadAllBytes(from))!;
        change(root);
        var path = Path.Combine(folder.FullName, name);
        File.WriteAllText(path, root.ToJsonString());
        return path;
    }

    private static string Program => Path.Combine(AppContext.BaseDirectory, "SetWeek.Service.dll");

    private async Task<Ended> Run(params string[] arguments)
    {
        using var process = Start("dotnet", [Program, .. arguments]);
        var (output, errors) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
        await process.WaitForExitAsync();
        return new Ended(process.ExitCode, await output, await errors);
    }

    private Process Start(string program, params string[] arguments) => Process.Start(new ProcessStartInfo(program, arguments)
    {
        RedirectStandardOutput = true, RedirectStandardError = true, WorkingDirectory = folder.FullName,
    })!;

    private static string Example(string name) => Path.Combine(Project, "docs/examples", name);

    private static string Above(string folder) =>
        File.Exists(Path.Combine(folder, "SetWeek.sln")) ? folder : Above(Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException());
}
