using OneOf;
using SetWeek.Domain.Sentences;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Domain.Weeks.Events.Snags;

namespace SetWeek.Domain.Reports;

/// <summary>
/// Tells a repeated report from another report with the same id. A repetition has the same content, and is received later.
/// </summary>
public static class RepeatedReport
{
    /// <summary>Decides on a report by its id.</summary>
    /// <param name="report">The report; its kind is kept.</param>
    /// <param name="lines">The counted lines of an arrival; empty for other reports.</param>
    /// <returns>The report if its id is new; null for a repetition; a refusal where the id has another content.</returns>
    public static OneOf<T?, Refusal> Recorded<T>(this StoreWeek week, T report, params IReadOnlyList<CountedLine> lines)
        where T : class, IFloorReport
    {
        if (report.Corrects == report.Report || report is ReportRetracted { Retracts: var named } && named == report.Report)
            return new Refusal("corrects-itself", "A report cannot correct or take back itself. Give it an id of its own.");
        if (week.Facts.Find(report.Report) is not { } known)
        {
            // A stop that corrects another is recorded, and both stand.
            if (report is not WorkStopped && NamedBy(report) is { } other && week.Facts.Find(other) is WorkStopped)
                return new Refusal("is-stop", "A stop cannot be taken back or corrected by a report. Ask a lead to lift it.");
            return report;
        }
        return IsSame(report, known) && IsSameCount(week, report, lines) ? (T?)null
            : new Refusal("report-id-used",
                $"A report with this id is recorded already, and differs: {EventSentences.Of(week, known)} "
                + "That one stands. To change it, correct it or take it back; a further report needs an id of its own.");
    }

    private static string? NamedBy(IFloorReport report) =>
        report is ReportRetracted retraction ? retraction.Retracts : report.Corrects;

    private static bool IsSame(IFloorReport first, IFloorReport second) => first.StatedAt() == second.StatedAt()
        && ListsOf(first).SequenceEqual(ListsOf(second)) && Rest(first).Equals(Rest(second));

    private static bool IsSameCount(StoreWeek week, IFloorReport report, IReadOnlyList<CountedLine> lines) =>
        report is not KitArrived || week.Facts.CountsOf(report.Report).Where(count => count.Confirmed is null)
            .SelectMany(count => count.Lines).SequenceEqual(lines);

    /// <summary>The entries of the lists of a report that its sender gave.</summary>
    private static IEnumerable<object> ListsOf(IFloorReport report) => report switch
    {
        WorkBlocked work => work.Photos ?? [],
        WorkStarted work => [.. work.People ?? [], .. work.Gates ?? []],
        WorkFinished work => [.. work.People ?? [], .. work.Checks ?? [], .. work.Photos ?? []],
        ChecksFailed failed => [.. failed.People ?? [], .. failed.Checks, .. failed.Photos ?? []],
        IWorkReport work => work.People ?? [],
        NightOpened night => night.Here.Append("").Concat(night.Said),
        NightClosed night => [.. night.Out, .. night.Answers, .. night.HalfSecured],
        AreaLookedAt look => [.. look.With, .. look.Answers, .. look.Photos ?? []],
        DisplayShown shown => shown.To,
        ISnagReport snag => snag.Photos ?? [],
        _ => [],
    };

    /// <summary>
    /// The report without its time, its clock, its lists and its signer, for comparison by value. A shared phone may send a
    /// report again when somebody else is signed in.
    /// </summary>
    private static IFloorReport Rest(IFloorReport report) => report switch
    {
        WorkStarted work => work with { At = default, Clock = null, People = null, Gates = null, By = null },
        WorkFinished work => work with { At = default, Clock = null, People = null, Checks = null, By = null, Photos = null },
        ChecksFailed failed => failed with { At = default, Clock = null, People = null, Checks = [], By = null, Photos = null },
        WorkResumed work => work with { At = default, Clock = null, People = null },
        WorkBlocked work => work with { At = default, Clock = null, Photos = null },
        WorkPaused work => work with { At = default, Clock = null },
        WorkProgressed work => work with { At = default, Clock = null },
        WorkReopened work => work with { At = default, Clock = null },
        CleanDownStarted clean => clean with { At = default, Clock = null, People = null, By = null },
        CleanDownFinished clean => clean with { At = default, Clock = null, People = null, By = null },
        KitArrived kit => kit with { At = default, Clock = null },
        WorkStopped stop => stop with { At = default, Clock = null },
        ReportRetracted retraction => retraction with { At = default, Clock = null },
        NightOpened night => night with { At = default, Clock = null, By = "", Here = [], Said = [] },
        NightClosed night => night with
        {
            At = default, Clock = null, By = "", Out = [], Answers = [], HalfSecured = [], ShutZones = [], NotClean = [],
        },
        PersonCame person => person with { At = default, Clock = null },
        PersonLeft person => person with { At = default, Clock = null },
        AreaLookedAt look => look with { At = default, Clock = null, By = "", With = [], Answers = [], Photos = null },
        DisplayShown shown => shown with { At = default, Clock = null, To = [], By = "", ByLead = false },
        SnagRaised snag => snag with
        {
            At = default, Clock = null, Photos = null, By = "", Number = 0, Area = null, Task = null,
        },
        SnagFixed snag => snag with { At = default, Clock = null, Photos = null, By = "" },
        SnagReopened snag => snag with { At = default, Clock = null, Photos = null, By = "" },
        SnagHandedOn snag => snag with { At = default, Clock = null, Photos = null, By = "" },
        SnagAcceptedOpen snag => snag with { At = default, Clock = null, Photos = null, By = "" },
        _ => throw new ArgumentException($"{report.GetType().Name} cannot be compared; add its case.", nameof(report)),
    };
}
