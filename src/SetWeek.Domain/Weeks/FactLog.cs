using System.Collections.Immutable;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Snags;

namespace SetWeek.Domain.Weeks;

/// <summary>
/// The facts of a week in the order in which they were recorded, and which of them are taken back. Whether a report is taken back
/// depends on the set of reports alone and not on their order.
/// </summary>
/// <param name="Opened">The event that opened the week.</param>
public sealed record FactLog(WeekOpened Opened)
{
    private ImmutableList<IWeekEvent> All { get; init; } = [];

    private ImmutableDictionary<string, IFloorReport> Reports { get; init; } = ImmutableDictionary<string, IFloorReport>.Empty;

    /// <summary>The ids of the reports that are taken back, also of those that have not arrived yet.</summary>
    public ImmutableHashSet<string> TakenBack { get; private init; } = [];

    /// <summary>By the report that raised a snag: its number. Those that are taken back are among them.</summary>
    public ImmutableDictionary<string, int> SnagNumbers { get; private init; } = ImmutableDictionary<string, int>.Empty;

    /// <summary>The facts that count, in the order in which they were recorded.</summary>
    public IEnumerable<IWeekEvent> Counting => All.Where(Counts);

    /// <returns>Null if no report with that id is recorded. A report that was taken back is found.</returns>
    public IFloorReport? Find(string report) => Reports.GetValueOrDefault(report);

    public bool Counts(IWeekEvent fact) => fact switch
    {
        IFloorReport report => !TakenBack.Contains(report.Report),
        KitCounted { Report: { } report } => !TakenBack.Contains(report),
        _ => true,
    };

    /// <summary>The counts that belong to a report of arrival.</summary>
    public IEnumerable<KitCounted> CountsOf(string report) => All.OfType<KitCounted>().Where(count => count.Report == report);

    /// <summary>The log with another fact.</summary>
    /// <param name="added">The fact as recorded: a count names its report.</param>
    public FactLog With(IWeekEvent fact, out IWeekEvent added)
    {
        added = fact is KitCounted { Report: null } count ? count with { Report = ArrivalOf(count) } : fact;
        var next = this with { All = All.Add(added) };
        if (added is not IFloorReport report) return next;
        next = next with { Reports = Reports.SetItem(report.Report, report) };
        if (report is SnagRaised snag) next = next with { SnagNumbers = SnagNumbers.SetItem(snag.Report, snag.Number) };
        return Named(report) is null && !TakenBack.Contains(report.Report) ? next
            : next with { TakenBack = FindTakenBack(next.Reports) };
    }

    /// <summary>Whether the same facts count as before, apart from the added one.</summary>
    public bool CountsTheSameAs(FactLog before, IWeekEvent added) =>
        ReferenceEquals(TakenBack, before.TakenBack) || TakenBack.SetEquals(before.TakenBack)
        || added is IFloorReport report && TakenBack.SymmetricExcept(before.TakenBack)
            .All(changed => changed == report.Report || !Reports.ContainsKey(changed));

    /// <summary>In older events a count follows its arrival.</summary>
    private string? ArrivalOf(KitCounted count) =>
        All.FindLast(fact => fact is KitArrived) is KitArrived arrived && arrived.Kit == count.Kit && arrived.At == count.At
            ? arrived.Report : null;

    /// <summary>The report that a report takes back; null for none.</summary>
    private static string? Named(IFloorReport report) =>
        report is ReportRetracted retraction ? retraction.Retracts : report.Corrects;

    /// <summary>
    /// A retraction always counts: it cannot itself be taken back. Nor can a stop, which only a lead lifts. A correction counts
    /// unless it is taken back; it is decided only after all those that name it. Corrections that name each other in a circle
    /// have no such order, so none of them counts.
    /// </summary>
    private static ImmutableHashSet<string> FindTakenBack(ImmutableDictionary<string, IFloorReport> reports)
    {
        var (counting, takenBack) = (new HashSet<string>(), new HashSet<string>());
        var naming = reports.Values.Where(report => Named(report) is not null).ToList();
        var namedBy = naming.ToLookup(report => Named(report)!);
        for (var changed = true; changed;)
        {
            changed = false;
            foreach (var report in naming)
            {
                if (counting.Contains(report.Report) || takenBack.Contains(report.Report)) continue;
                if (report is not (ReportRetracted or WorkStopped)
                    && namedBy[report.Report].Any(other => !takenBack.Contains(other.Report)))
                    continue;
                changed = counting.Add(report.Report);
                if (!IsPermanent(reports, Named(report)!)) takenBack.Add(Named(report)!);
            }
        }
        takenBack.UnionWith(naming.Select(report => report.Report).Where(report => !counting.Contains(report)));
        return [.. takenBack];
    }

    private static bool IsPermanent(ImmutableDictionary<string, IFloorReport> reports, string report) =>
        reports.GetValueOrDefault(report) is ReportRetracted or WorkStopped;
}
