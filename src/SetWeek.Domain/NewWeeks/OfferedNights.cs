using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.NewWeeks;

/// <summary>The nights that are offered for a new week, by what is usual in the store.</summary>
public static class OfferedNights
{
    /// <summary>A night that opens before noon belongs to the evening before.</summary>
    private const int Noon = 12;

    /// <summary>One night for each of the last evenings before the day of the launch.</summary>
    /// <param name="count">How many.</param>
    /// <param name="opens">The store's time of day at which each opens.</param>
    /// <param name="closes">When it closes, on the next day if that is not after <paramref name="opens"/>.</param>
    /// <param name="earlier">An earlier week of the store, whose bans hold again; null if there is none.</param>
    public static IReadOnlyList<Night> Before(LocalDateTime launch, int count, LocalTime opens, LocalTime closes,
        Week? earlier) =>
    [
        .. Enumerable.Range(1, count).Select(number =>
        {
            var evening = launch.Date.PlusDays(number - 1 - count);
            var from = (opens.Hour < Noon ? evening.PlusDays(1) : evening) + opens;
            var to = (closes > opens ? from.Date : from.Date.PlusDays(1)) + closes;
            return new Night($"night-{number}", from, to)
            {
                Bans = earlier is null ? [] : [.. BansOf(earlier, launch, evening).Where(ban => ban.From < to && ban.To > from)],
            };
        }),
    ];

    /// <summary>The bans of the night that lay as long before its launch, or of the one nearest to that.</summary>
    private static IEnumerable<Ban> BansOf(Week earlier, LocalDateTime launch, LocalDate evening)
    {
        var before = Days(evening, launch.Date);
        var night = earlier.Nights.MinBy(night => Math.Abs(Days(EveningOf(night), earlier.Launch.Date) - before))!;
        var days = Days(EveningOf(night), evening);
        return night.Bans.Select(ban => new Ban(ban.Trait, ban.From.PlusDays(days), ban.To.PlusDays(days)));
    }

    private static LocalDate EveningOf(Night night) =>
        night.Opens.Hour < Noon ? night.Opens.Date.PlusDays(-1) : night.Opens.Date;

    private static int Days(LocalDate from, LocalDate to) => Period.DaysBetween(from, to);
}

/// <summary>How many nights a week of a store has, and between which times of day.</summary>
/// <param name="Opens">Null if nothing is known.</param>
/// <param name="Closes">Null if nothing is known.</param>
public sealed record UsualNights(int Count, LocalTime? Opens, LocalTime? Closes)
{
    private const int CountUnlessKnown = 5;

    /// <summary>As in an earlier week of the store: the times that most of its nights had.</summary>
    public static UsualNights Of(Week? earlier)
    {
        if (earlier is null) return new UsualNights(CountUnlessKnown, null, null);
        var (opens, closes) = earlier.Nights.GroupBy(night => (night.Opens.TimeOfDay, night.Closes.TimeOfDay))
            .MaxBy(same => same.Count())!.Key;
        return new UsualNights(earlier.Nights.Count, opens, closes);
    }
}
