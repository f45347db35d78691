using NodaTime;
using SetWeek.Domain.Weeks;

namespace SetWeek.Domain.Figures;

/// <summary>
/// The weeks of a chain as head office reads them in the morning: what is unsafe, what is at risk, who is silent, and the rest. A
/// week stands in every list that it belongs to, so that no matter hides another.
/// </summary>
/// <param name="Unsafe">Work is stopped; the oldest stop first.</param>
/// <param name="AtRisk">The next launch first.</param>
/// <param name="Silent">The longest silence first.</param>
/// <param name="Rest">The weeks in none of these, in the order of their ids.</param>
public sealed record StoreLedger(
    IReadOnlyList<LedgerWeek> Unsafe, IReadOnlyList<LedgerWeek> AtRisk, IReadOnlyList<LedgerWeek> Silent,
    IReadOnlyList<LedgerWeek> Rest)
{
    /// <param name="weeks">The figures, each with the version of the week that they are of; in the order of their ids.</param>
    public static StoreLedger Of(IEnumerable<(long Version, WeekFigures Figures)> weeks, Instant now)
    {
        var all = weeks.Select(week => new LedgerWeek(week.Version, week.Figures, WeekOutlook.Of(week.Figures, now),
            Silence.Of(week.Figures, now))).ToList();
        return new StoreLedger(
            [.. all.Where(week => week.IsUnsafe).OrderBy(week => week.Figures.Stops[0].Since)],
            [.. all.Where(week => week.Outlook.AtRisk).OrderBy(week => week.Figures.Launch)],
            [.. all.Where(week => week.Silence is not null)
                .OrderBy(week => week.Silence!.LastHeard ?? LocalDateTime.MinIsoValue)],
            [.. all.Where(week => !week.IsUnsafe && !week.Outlook.AtRisk && week.Silence is null)]);
    }

    public int Count => Unsafe.Concat(AtRisk).Concat(Silent).Concat(Rest).Select(week => week.Figures.Week).Distinct().Count();
}

/// <summary>A week in the ledger.</summary>
/// <param name="Version">The version of the week that the figures are of.</param>
/// <param name="Silence">Null if the store is heard, or has nothing to say.</param>
public sealed record LedgerWeek(long Version, WeekFigures Figures, WeekOutlook Outlook, Silence? Silence)
{
    public bool IsUnsafe => Figures.Stops.Count > 0;
}

/// <summary>A store with planned work from which nothing is heard. What it does is not known, and nothing is assumed.</summary>
/// <param name="LastHeard">Store-local; null if the week was never heard.</param>
/// <param name="Night">The last night that has opened.</param>
public sealed record Silence(LocalDateTime? LastHeard, NightHours Night)
{
    /// <summary>
    /// A store is silent after so much planned time of its nights without a word. Common practice, no source: a piece of work
    /// seldom takes longer, and its start and its end are reported.
    /// </summary>
    private static readonly Duration Longest = Duration.FromHours(2);

    /// <returns>Null if the store is heard, its plan is not published, or everything is done.</returns>
    public static Silence? Of(WeekFigures week, Instant now)
    {
        if (week.PublishedPlan is null || week.Stage == WeekStage.Done) return null;
        var zone = DateTimeZoneProviders.Tzdb[week.TimeZone];
        var opened = week.Nights.Where(night => night.Pieces != 0 && At(night.Opens) <= now).ToList();
        var quiet = opened.Aggregate(Duration.Zero, (sum, night) => sum + Duration.Max(Duration.Zero,
            Instant.Min(At(night.WorkEnds ?? night.Closes), now)
            - Instant.Max(At(night.Opens), week.LastReport ?? Instant.MinValue)));
        return quiet < Longest ? null : new Silence(week.LastReport?.InZone(zone).LocalDateTime, opened[^1]);

        Instant At(LocalDateTime local) => local.InZoneLeniently(zone).ToInstant();
    }
}
