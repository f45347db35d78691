using System.Text.Json;
using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Cli.Demo;

/// <summary>Reports the work of one night as planned, except that the last task is blocked half-way.</summary>
internal sealed class DemoNight(
    DemoOutput tables, DemoClock story, DemoApi lead, DemoApi crew, Week week, PlannedNight night)
{
    private readonly string path = $"/weeks/{week.Id}/work";
    private int reports;

    /// <summary>The lead shows the displays by which people can be hurt to those who begin them tonight.</summary>
    public async Task Show(CancellationToken cancelled)
    {
        var at = night.Work.MinBy(work => work.From.ToInstant())!.From;
        story.MoveTo(at.ToInstant());
        var by = (await lead.Get("/session", cancelled)).Body.Text("person");
        var sheet = (await lead.Get($"/weeks/{week.Id}/nights/{night.Night}/sheet", cancelled)).Body;
        var displays = sheet.Items("pieces").Select(piece => piece.Field("showing")).OfType<JsonElement>()
            .GroupBy(showing => showing.Text("display")!).ToList();
        foreach (var display in displays)
        {
            var people = display.SelectMany(showing => showing.Items("people")).Select(person => person.Text("person")!)
                .Where(person => person != by).Distinct().ToList();
            // A lead who works alone has shown it to somebody, so that a second person knows it.
            if (people.Count == 0) people = [week.Crew.First(member => member.Id != by).Id];
            await lead.Post($"/weeks/{week.Id}/displays/{display.Key}/shown",
                new { id = $"{night.Night}.shown.{display.Key}", at, shownBy = by, to = people }, cancelled);
            tables.Write($"\"{display.First().Text("name")}\" can hurt people if it is built wrongly: the lead shows it to "
                + $"{DemoOutput.Count(people.Count, "person", "people")} before anybody begins.");
        }
    }

    public async Task Work(CancellationToken cancelled)
    {
        var blocked = Blocked();
        var done = 0;
        foreach (var work in night.Work.OrderBy(work => work.From.ToInstant()))
        {
            await Report("started", work, work.From, cancelled);
            if (work == blocked) await Block(work, cancelled);
            else await Report("finished", work, work.To, cancelled);
            done += work == blocked ? 0 : 1;
        }
        tables.Write($"{WeekLabels.Day(night.Work[0].From.LocalDateTime)}: {reports} reports, "
            + "each with its own id and time; "
            + $"{DemoOutput.Count(done, "piece")} of work finished as planned.");
        if (blocked is not null)
            tables.Write($"\"{new WeekLabels(week).Work(blocked)}\" is blocked half-way: "
                + "it is waiting for an answer from head office, expected tomorrow.");
    }

    /// <summary>The task that starts last, so that no other work of the night waits for it.</summary>
    private PlannedWork? Blocked() => night.Work.Where(work => work.Task is not null).MaxBy(work => work.From.ToInstant());

    private Task Report(string kind, PlannedWork work, OffsetDateTime at, CancellationToken cancelled)
    {
        story.MoveTo(at.ToInstant());
        var id = $"{night.Night}.{++reports}";
        object report = work.CleanDown is { } zone
            ? new { id, cleanDown = zone, night = night.Night, at }
            : new { id, task = work.Task, stint = work.Stint, night = night.Night, at };
        return crew.Post($"{path}/{kind}", report, cancelled);
    }

    private Task Block(PlannedWork work, CancellationToken cancelled)
    {
        var half = Duration.FromMinutes(Math.Floor((work.To.ToInstant() - work.From.ToInstant()).TotalMinutes / 2));
        story.MoveTo((work.From + half).ToInstant());
        var tomorrow = week.Nights[1].Opens.InZoneLeniently(DateTimeZoneProviders.Tzdb[week.Store.TimeZone]).ToOffsetDateTime();
        return crew.Post($"{path}/blocked", new
        {
            id = $"{night.Night}.{++reports}", task = work.Task, stint = work.Stint, at = work.From + half,
            reason = "waiting-for-answer", remainingMinutes = (int)half.TotalMinutes, until = tomorrow,
            note = "The picture and the parts list differ. Which one is right?",
        }, cancelled);
    }
}
