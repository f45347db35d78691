using System.Text.Json;
using NodaTime;
using SetWeek.Cli.Tables;
using SetWeek.Model.Comparing;
using SetWeek.Model.Files;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Service.Plans;
using SetWeek.Service.Words;
using Spectre.Console;
using Grid = SetWeek.Model.Time.Grid;

namespace SetWeek.Cli.Demo;

/// <summary>
/// A tour of the service for a newcomer, through the public HTTP API only: plan and publish a week, re-plan it after a kit is
/// late, report the work of its first night, and read the feed of head office.
/// </summary>
/// <param name="clock">Measures the seconds that the demo takes.</param>
/// <param name="story">The service's clock, moved through the week of the demo.</param>
/// <param name="scenario">The folder with the files of the example week (ops/scenario).</param>
/// <param name="seconds">Time limit of each search, in seconds.</param>
internal sealed class DemoRun(
    IAnsiConsole console, TimeProvider clock, DemoClock story, DemoApi office, DemoApi lead, DemoApi crew, string scenario,
    int seconds)
{
    private const string Direction = "first-rain", Store = "harbour-street", WeekId = "first-rain.harbour-street";
    private static readonly LocalDateTime DelayReported = new(2027, 3, 5, 16, 30), KitNowDue = new(2027, 3, 10, 16, 0);

    private readonly DemoOutput tables = new(console);
    private readonly long started = clock.GetTimestamp();

    public async Task Run(CancellationToken cancelled)
    {
        tables.Heading("Head office issues the direction First Rain");
        await IssueDirection(cancelled);
        tables.Heading("The direction is scoped to each store: what the store can build, in its own zones");
        await OpenWeek("mill-lane", cancelled);
        var week = await OpenWeek(Store, cancelled);

        tables.Heading($"A plan for Harbour Street, with a time limit of {seconds} seconds");
        var planning = new DemoPlanning(tables, lead, clock, seconds);
        var first = await planning.Ask(week, cancelled);
        tables.Heading("The week, night by night");
        new PlanTables(console, week).Print(first.Plan);
        await PrintChance(first, week, cancelled);
        tables.Heading("The lead publishes the plan");
        await planning.Publish(first, week, cancelled);

        tables.Heading("On the Friday before the week, a kit is delayed by two nights");
        story.MoveTo(DelayReported, week.Store.TimeZone);
        await ReportLateKit(week, cancelled);
        week = await ReadWeek(cancelled);
        var asked = await planning.Ask(week, cancelled);
        var second = await new DemoOptions(tables, planning).Choose(asked, week, cancelled);
        new PlanTables(console, week).Goals(second.Plan);
        new ChangeTables(console, week).Print(Changes(second.Answer));
        await PrintChance(second, week, cancelled);
        await planning.Publish(second, week, cancelled);

        tables.Heading("A kit arrives; the crew reports the work of the first night, and the count of the kit");
        var fixtures = new DemoKit(tables, story, crew, week, week.Kits.Single(kit => kit.Id == "fixtures"));
        await fixtures.Arrive(cancelled);
        var night = new DemoNight(tables, story, lead, crew, week, second.Plan.Nights[0]);
        await night.Show(cancelled);
        await night.Work(cancelled);
        await fixtures.Count(week.Nights[0].Closes, cancelled);
        await PrintWorkDone(cancelled);

        tables.Heading("Head office reads the feed (CloudEvents 1.0) from its beginning");
        await new DemoFeed(tables, office).Print(cancelled);
        console.WriteLine();
        tables.Write($"The demo is done, in {clock.GetElapsedTime(started).TotalSeconds:0} s. Every step used the HTTP API.");
    }

    private async Task IssueDirection(CancellationToken cancelled)
    {
        var reply = await office.Post("/directions", await Scenario($"{Direction}.direction.json", cancelled), cancelled);
        var direction = (await office.Get(reply.Location ?? $"/directions/{Direction}", cancelled)).Body;
        tables.Write($"{DemoOutput.Count(direction.Items("displays").Count(), "display")}, "
            + $"{DemoOutput.Count(direction.Items("tasks").Count(), "task")} with their steps, checks and cautions, "
            + $"{DemoOutput.Count(direction.Items("kits").Count(), "kit")}.");
    }

    private async Task<Week> OpenWeek(string store, CancellationToken cancelled)
    {
        await office.Post("/stores", await Scenario($"{store}.store.json", cancelled), cancelled);
        var opened = await office.Post("/weeks", await Scenario($"{store}.opening.json", cancelled), cancelled);
        var week = await ReadWeek(cancelled, $"{Direction}.{store}");
        var name = (await office.Get($"/stores/{store}", cancelled)).Body.Text("name");
        tables.Write($"{name}: {DemoOutput.Count(week.Tasks.Count, "task")}, "
            + $"{DemoOutput.Count(week.Crew.Count, "person", "people")}, "
            + $"{DemoOutput.Count(week.Nights.Count, "night")} from {WeekLabels.Day(week.Nights[0].Opens)}; "
            + $"launch {DayTime(week.Launch)}.");
        foreach (var decision in opened.Body.Items("scoping")) tables.Write(decision.Text("sentence") ?? "", deeper: true);
        foreach (var night in week.Nights) PrintClockChange(night, week);
        return week;
    }

    private async Task PrintChance(DemoPlan plan, Week week, CancellationToken cancelled)
    {
        var risk = (await lead.Get($"/weeks/{WeekId}/plans/{plan.Id}/risk?helps=no", cancelled)).Body;
        console.WriteLine();
        foreach (var sentence in new ChanceSentences(week).Of(risk.As<HoldChance>("hold"))) console.WriteLine(sentence);
    }

    private async Task ReportLateKit(Week week, CancellationToken cancelled)
    {
        var kit = week.Kits.Single(kit => kit.Id == "props");
        var delay = new { eta = KitNowDue, why = "The lorry is stuck in snow." };
        await office.Post($"/weeks/{WeekId}/kits/{kit.Id}/delayed", delay, cancelled);
        tables.Write($"{DayTime(DelayReported)}: \"{kit.Name}\" was due {DayTime(kit.Eta!.Value)}; "
            + $"the carrier now says {DayTime(KitNowDue)}.");
        tables.Write(
            "The lead asks for a new plan and gets options. The first has the fewest changes; those at short notice count "
            + "three times. The others are better in some goal.");
    }

    private async Task PrintWorkDone(CancellationToken cancelled)
    {
        var state = (await lead.Get($"/weeks/{WeekId}", cancelled)).Body;
        var work = state.Items("work").ToList();
        tables.Write($"The week now has {work.Count(entry => entry.Text("state") == "done")} pieces of work done"
            + $" and {work.Count(entry => entry.Text("state") == "blocked")} blocked.");
    }

    private void PrintClockChange(Night night, Week week)
    {
        var minutes = new Grid(week.Store.TimeZone, night.Opens, 1).MinuteOf(night.Closes);
        var wallClock = Period.Between(night.Opens, night.Closes, PeriodUnits.Minutes).Minutes;
        if (minutes == wallClock) return;
        tables.Write($"The clocks change in the night of {WeekLabels.Day(night.Opens)}: {WeekLabels.Time(night.Opens)} to "
            + $"{WeekLabels.Time(night.Closes)} is {GoalLabels.Length(minutes)}, "
            + $"not {GoalLabels.Length(wallClock)}.", deeper: true);
    }

    private static string DayTime(LocalDateTime time) => $"{WeekLabels.Day(time)}, {WeekLabels.Time(time)}";

    private static PlanChanges Changes(JsonElement answer)
    {
        var view = answer.As<ChangesView>("changes");
        return new PlanChanges { Work = view.Moved, Shifts = view.Shifts, Notifications = view.Told, Cost = view.Cost! };
    }

    private async Task<Week> ReadWeek(CancellationToken cancelled, string id = WeekId) =>
        WeekFile.Read((await lead.Get($"/weeks/{id}/week-file", cancelled)).Content)
            .Match(week => week, faults => throw DemoStopped.Unreadable("week", faults));

    private async Task<byte[]> Scenario(string file, CancellationToken cancelled)
    {
        var path = Path.Combine(scenario, file);
        return File.Exists(path) ? await File.ReadAllBytesAsync(path, cancelled) : throw new DemoStopped($"There is no {path}.");
    }
}
