using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events.Snags;

namespace SetWeek.Domain.Snags;

/// <summary>Whether a snag is put right.</summary>
public enum SnagState
{
    Open,

    /// <summary>Open, and the lead has accepted that it is.</summary>
    Accepted,

    Fixed,
}

/// <summary>A snag as its reports leave it.</summary>
/// <param name="Number">Its number in the week.</param>
/// <param name="Raised">The report that says what it is; of several, the last one by time.</param>
/// <param name="Acts">What was reported of it since, in the order of time.</param>
public sealed record SnagStatus(int Number, SnagRaised Raised, IReadOnlyList<ISnagReport> Acts)
{
    public required SnagState State { get; init; }
    public required SnagOwner Owner { get; init; }
    public required LocalDate Due { get; init; }

    /// <summary>
    /// The report that decides the state: that it was put right, reopened or accepted; otherwise that it was raised.
    /// </summary>
    public required ISnagReport Since { get; init; }

    public bool IsOpen => State != SnagState.Fixed;

    /// <summary>The photographs of the snag and of its acts.</summary>
    public IReadOnlyList<string> Photos =>
        [.. Acts.Prepend(Raised).SelectMany(report => report.Photos ?? []).Distinct()];

    /// <summary>The snags of a week by number. A snag whose report was taken back is not among them.</summary>
    public static IReadOnlyList<SnagStatus> AllOf(ReportedSnags snags) =>
    [
        .. snags.Reports.Where(report => snags.Numbers.ContainsKey(report.Snag)).GroupBy(report => snags.Numbers[report.Snag])
            .OrderBy(snag => snag.Key).Select(snag => Of(snag.Key, [.. InOrder(snag)])).OfType<SnagStatus>(),
    ];

    /// <returns>Null if the week has no such snag.</returns>
    public static SnagStatus? Find(ReportedSnags snags, int number) => Of(number, [.. InOrder(
        snags.Reports.Where(report => snags.Numbers.TryGetValue(report.Snag, out var known) && known == number))]);

    private static SnagStatus? Of(int number, IReadOnlyList<ISnagReport> reports)
    {
        if (reports.OfType<SnagRaised>().LastOrDefault() is not { } raised) return null;
        var opened = new SnagStatus(number, raised, [.. reports.Where(report => report is not SnagRaised)])
        {
            State = SnagState.Open, Owner = raised.Owner, Due = raised.Due, Since = raised,
        };
        return opened.Acts.Aggregate(opened, After);
    }

    private static SnagStatus After(SnagStatus snag, ISnagReport act) => act switch
    {
        SnagFixed => snag with { State = SnagState.Fixed, Since = act },
        SnagReopened => snag with { State = SnagState.Open, Since = act },
        // What is put right needs nobody's acceptance.
        SnagAcceptedOpen => snag.State == SnagState.Fixed ? snag : snag with { State = SnagState.Accepted, Since = act },
        SnagHandedOn handed => snag with { Owner = handed.Owner ?? snag.Owner, Due = handed.Due ?? snag.Due },
        _ => throw new ArgumentException($"No state follows from {act.GetType().Name}; add its case.", nameof(act)),
    };

    /// <summary>
    /// A device whose clock is ahead sends many that count from their receipt; its own clock then tells their order.
    /// </summary>
    private static IEnumerable<ISnagReport> InOrder(IEnumerable<ISnagReport> reports) => reports
        .OrderBy(report => report.EffectiveAt().ToInstant()).ThenBy(report => report.StatedAt().ToInstant())
        .ThenBy(report => report.Report, StringComparer.Ordinal);
}
