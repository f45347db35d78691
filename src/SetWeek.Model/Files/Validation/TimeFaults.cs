using NodaTime;
using SetWeek.Model.Json;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>
/// Finds times that contradict one another. They are compared as instants, because a clock change can reverse the order of
/// two local times. A local time that the clock skips is allowed: it moves forward.
/// </summary>
internal static class TimeFaults
{
    public static IEnumerable<Fault> Of(Week week)
    {
        var zone = DateTimeZoneProviders.Tzdb.GetZoneOrNull(week.Store.TimeZone);
        var unknownZone = zone is null && week.Store.TimeZone.Length > 0;
        // Without a known time zone the local times are compared as if the clocks never changed.
        var grid = new Grid(zone?.Id ?? "Etc/UTC", new LocalDateTime(TimePatterns.FirstYear, 1, 1, 0, 0), 1);
        IEnumerable<Fault?> found =
        [
            unknownZone ? new Fault("/store/timeZone",
                $"{QuotedInput.Of(week.Store.TimeZone)} is not a time zone of the IANA database; give one such as Europe/London.")
                : null,
            .. Nights(week, grid),
            .. Launch(week, grid),
            .. Crew(week, grid),
        ];
        return found.OfType<Fault>();
    }

    private static IEnumerable<Fault?> Nights(Week week, Grid grid)
    {
        Night? previous = null;
        foreach (var (index, night) in week.Nights.Index())
        {
            var at = $"/nights/{index}";
            var window = SpanOf(grid, night.Opens, night.Closes);
            yield return Backwards($"{at}/closes", window, "The night closes", "opens");
            if (window is { Minutes: > WeekLimits.Minutes })
                yield return new Fault($"{at}/closes", "The night is longer than 31 days; check the dates.");
            if (previous is not null && Known(night.Opens) && Known(previous.Closes)
                && grid.MinuteOf(night.Opens) < grid.MinuteOf(previous.Closes))
                yield return new Fault($"{at}/opens",
                    $"The night opens at {TimePatterns.Write(night.Opens)}, before night {QuotedInput.Of(previous.Id)} closes at "
                    + $"{TimePatterns.Write(previous.Closes)}; list nights in time order and without overlap.");
            foreach (var (number, ban) in night.Bans.Index())
            {
                var span = SpanOf(grid, ban.From, ban.To);
                yield return Backwards($"{at}/bans/{number}/to", span, "The ban ends", "begins");
            }
            previous = night;
        }
    }

    private static IEnumerable<Fault?> Launch(Week week, Grid grid)
    {
        if (week.Nights.Count > 0 && Known(week.Launch) && Known(week.Nights[0].Opens)
            && grid.MinuteOf(week.Launch) <= grid.MinuteOf(week.Nights[0].Opens))
            yield return new Fault("/launch",
                $"The launch, {TimePatterns.Write(week.Launch)}, is not after the first night opens, "
                + $"{TimePatterns.Write(week.Nights[0].Opens)}; check both dates.");
    }

    private static IEnumerable<Fault?> Crew(Week week, Grid grid)
    {
        var nights = week.Nights.DistinctBy(night => night.Id).ToDictionary(night => night.Id);
        foreach (var (index, member) in week.Crew.Index())
        {
            foreach (var (entry, available) in member.Available.Index())
            {
                if (!nights.TryGetValue(available.Night, out var night) || available.Night.Length == 0) continue;
                if (SpanOf(grid, night.Opens, night.Closes) is not { Minutes: > 0 } window) continue;
                var at = $"/crew/{index}/available/{entry}";
                var span = SpanOf(grid, available.From ?? night.Opens, available.To ?? night.Closes);
                yield return Backwards(at, span, "The availability ends", "begins");
            }
            foreach (var (entry, busy) in member.Commitments.Index())
                yield return Backwards($"/crew/{index}/commitments/{entry}/to", SpanOf(grid, busy.From, busy.To),
                    "The commitment ends", "begins");
        }
    }

    /// <summary>The span between two times, or null if one of them could not be read.</summary>
    private static Span? SpanOf(Grid grid, LocalDateTime from, LocalDateTime to) =>
        Known(from) && Known(to) ? new Span(grid.MinuteOf(from), grid.MinuteOf(to)) : null;

    private static bool Known(LocalDateTime time) => time.Year >= TimePatterns.FirstYear;

    private static Fault? Backwards(string pointer, Span? span, string ends, string begins) =>
        span is { Minutes: <= 0 } ? new Fault(pointer, $"{ends} no later than it {begins}; check both times, and the date "
            + "after midnight.") : null;
}
