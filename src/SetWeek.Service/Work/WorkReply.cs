using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Work;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Work;

/// <summary>The replies to reports on work.</summary>
internal static class WorkReply
{
    public static Reply Recorded => new(204, "The report is recorded; a repeated report changes nothing");

    /// <summary>The replies to a report by which work starts or goes on, also where somebody has stopped it.</summary>
    public static IReadOnlyList<Reply> RecordedOrStopped =>
    [
        new(200, "The report is recorded, and the work is stopped there: do not go on before a lead lifts the stop",
            typeof(StartedAgainstStop)),
        Recorded,
    ];

    public static FloorReport To(ReportTime time, IWorkReport report) =>
        new(time.At.ToInstant(), week => week.TakeReport(report));

    /// <summary>Answers with the stop that the report goes against, if there is one.</summary>
    public static FloorReport OrStopped(ReportTime time, IWorkReport report) => To(time, report) with
    {
        Reply = week => week.StopAgainst(report) is { } stopped ? Answer.Ok(stopped) : Answer.NoContent,
    };
}
