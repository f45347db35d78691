using NodaTime;
using SetWeek.Domain.Weeks;

namespace SetWeek.Domain.Nights;

/// <summary>Which night of a week is meant by "tonight".</summary>
public static class Tonight
{
    /// <summary>How long after its closing a night is still meant: reports of it are written then.</summary>
    private static readonly Duration Afterwards = Duration.FromHours(1);

    /// <summary>
    /// The night that is open, or the next one with work; after the last of them, that one. If no work is planned at all, nights
    /// without work count.
    /// </summary>
    /// <returns>The id of the night; null if no plan is published.</returns>
    public static string? NightOf(StoreWeek week, Instant now)
    {
        if (week.Published is not { } published) return null;
        var working = published.Plan.Nights.Where(night => night.Work.Count > 0).Select(night => night.Night).ToHashSet();
        var nights = week.Week.Nights.Where(night => working.Count == 0 || working.Contains(night.Id))
            .OrderBy(night => night.Opens).ToList();
        return (nights.Find(night => now < StoreTime.InstantOf(week, night.Closes) + Afterwards) ?? nights.LastOrDefault())?.Id;
    }
}
