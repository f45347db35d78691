using NodaTime;
using OneOf;
using SetWeek.Model.Files.Validation;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files;

/// <summary>What the floor has reported, as a file (docs/formats.md, docs/schemas/progress.schema.json).</summary>
public static class ReplanFile
{
    private const int MaxReports = 5000;

    /// <summary>A re-plan that fits its week, or everything wrong with it; pointers are into the progress file.</summary>
    public static OneOf<Replan, FaultReport> Read(Week week, Plan published, LocalDateTime now, ReadOnlyMemory<byte> progress) =>
        JsonCursor.Read(progress, cursor =>
        {
            var replan = new Replan(published, now, cursor.List(Report, MaxReports));
            cursor.AddFaults(ReplanFaults.Of(week, replan));
            return replan;
        });

    /// <summary>A re-plan made in code: itself, or what is wrong with it, pointing into its progress.</summary>
    public static OneOf<Replan, FaultReport> Check(Week week, Replan replan) =>
        ReplanFaults.Of(week, replan).ToList() is { Count: > 0 } faults ? new FaultReport(faults) : replan;

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
        };
    });
}
