using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Cli.Demo;

/// <summary>Works one night of the published plan by a crew's reports: all as planned, but for one piece of work.</summary>
internal sealed class DemoNight(DemoOutput tables, DemoApi crew, Week week, PlannedNight night)
{
    private readonly string path = $"/weeks/{week.Id}/work";
    private int reports;

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
            + "each with its own id and the time that it happened; "
            + $"{DemoOutput.Count(done, "piece")} of work done as planned.");
        if (blocked is not null)
            tables.Write($"\"{new WeekLabels(week).Work(blocked)}\" stopped half-way: "
                + "a question to head office, whose answer comes tomorrow.");
    }

    /// <summary>The task that begins last: what else is planned tonight does not wait for it.</summary>
    private PlannedWork? Blocked() => night.Work.Where(work => work.Task is not null).MaxBy(work => work.From.ToInstant());

    private Task Report(string what, PlannedWork work, OffsetDateTime at, CancellationToken cancelled)
    {
        var id = $"{night.Night}.{++reports}";
        object report = work.CleanDown is { } zone
            ? new { id, cleanDown = zone, night = night.Night, at }
            : new { id, task = work.Task, stint = work.Stint, night = night.Night, at };
        return crew.Post($"{path}/{what}", report, cancelled);
    }

    private Task Block(PlannedWork work, CancellationToken cancelled)
    {
        var half = Duration.FromMinutes(Math.Floor((work.To.ToInstant() - work.From.ToInstant()).TotalMinutes / 2));
        var tomorrow = week.Nights[1].Opens.InZoneLeniently(DateTimeZoneProviders.Tzdb[week.Store.TimeZone]).ToOffsetDateTime();
        return crew.Post($"{path}/blocked", new
        {
            id = $"{night.Night}.{++reports}", task = work.Task, stint = work.Stint, at = work.From + half,
            reason = "waiting-for-answer", remainingMinutes = (int)half.TotalMinutes, until = tomorrow,
            note = "The picture and the list differ: which of them counts?",
        }, cancelled);
    }
}
