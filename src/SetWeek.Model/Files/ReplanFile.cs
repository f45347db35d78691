using NodaTime;
using OneOf;
using SetWeek.Model.Files.Validation;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files;

/// <summary>Reads progress files and checks re-plans (docs/formats.md, docs/schemas/progress.schema.json).</summary>
public static class ReplanFile
{
    private const int MaxReports = 5000;

    /// <summary>Reads the input of a re-plan from a progress file.</summary>
    /// <param name="week">The valid week as it now is.</param>
    /// <param name="published">The published plan.</param>
    /// <param name="now">Store-local time of the re-plan.</param>
    /// <param name="progress">The bytes of the progress file, UTF-8.</param>
    /// <returns>A re-plan that fits the week, or every fault; pointers are into the progress file.</returns>
    public static OneOf<Replan, FaultReport> Read(Week week, Plan published, LocalDateTime now, ReadOnlyMemory<byte> progress) =>
        JsonCursor.Read(progress, cursor =>
        {
            var replan = new Replan(published, now, cursor.List(Report, MaxReports));
            cursor.AddFaults(ReplanFaults.Of(week, replan));
            return replan;
        });

    /// <summary>The re-plan itself if it fits the week, or else every fault; pointers are into its progress.</summary>
    public static OneOf<Replan, FaultReport> Check(Week week, Replan replan) =>
        ReplanFaults.Of(week, replan).ToList() is { Count: > 0 } faults ? new FaultReport(faults) : replan;

    /// <summary>Reads one report. Faults are added to the cursor.</summary>
    public static ProgressReport Report(JsonCursor cursor) => cursor.Object(at =>
    {
        var cleanDown = at.Has("cleanDown");
        return new ProgressReport
        {
            Task = cleanDown ? null : at.Id("task"),
            Stint = cleanDown ? 1 : at.Int("stint", 1, WeekLimits.Stints, otherwise: 1),
            Night = cleanDown ? at.Id("night") : null,
            CleanDown = cleanDown ? at.Id("cleanDown") : null,
            State = at.Choice<WorkState>("state"),
            From = cleanDown ? at.Time("from") : at.OptionalTime("from"),
            To = at.OptionalTime("to"),
            RemainingMinutes = cleanDown ? null : at.OptionalInt("remainingMinutes", 0, WeekLimits.Minutes),
            Until = cleanDown ? null : at.OptionalTime("until"),
            People = at.OptionalList("people", person => person.Id(), WeekLimits.People),
        };
    });
}
