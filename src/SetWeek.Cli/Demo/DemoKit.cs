using NodaTime;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Cli.Demo;

/// <summary>Reports that a kit has arrived, first without a count, later with it, and prints what waits for the count.</summary>
internal sealed class DemoKit(DemoOutput tables, DemoClock story, DemoApi crew, Week week, Kit kit)
{
    private readonly string path = $"/weeks/{week.Id}/kits/{kit.Id}/arrived";

    public async Task Arrive(CancellationToken cancelled)
    {
        var at = kit.Eta!.Value;
        story.MoveTo(InStore(at).ToInstant());
        var reply = await crew.Post(path, new { id = $"door.{kit.Id}", at = InStore(at) }, cancelled);
        tables.Write($"{WeekLabels.Day(at)}, {WeekLabels.Time(at)}: \"{kit.Name}\" arrived.");
        if (reply.Body.Text("sentence") is { } sentence) tables.Write(sentence, deeper: true);
    }

    public async Task Count(LocalDateTime at, CancellationToken cancelled)
    {
        story.MoveTo(InStore(at).ToInstant());
        var lines = kit.Lines.Select(line => new { item = line.Item, received = line.Expected });
        var reply = await crew.Post(path, new { id = $"count.{kit.Id}", at = InStore(at), lines }, cancelled);
        tables.Write($"\"{kit.Name}\" is counted. "
            + (reply.Body.Text("sentence") ?? "All its pieces are there, and no task waits for it any more."));
    }

    private OffsetDateTime InStore(LocalDateTime time) =>
        time.InZoneLeniently(DateTimeZoneProviders.Tzdb[week.Store.TimeZone]).ToOffsetDateTime();
}
