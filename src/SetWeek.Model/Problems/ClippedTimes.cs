using NodaTime;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Problems;

/// <summary>
/// Bans and availabilities of which only the part within their night counts, because they reach beyond it. A night's hours may
/// change after its bans were written, so such times are no fault of the week.
/// </summary>
internal static class ClippedTimes
{
    /// <summary>One sentence for each clipped time, in the order of the week file.</summary>
    public static IReadOnlyList<string> Notes(Problem problem) =>
    [
        .. from night in problem.Week.Nights
           from ban in night.Bans
           from note in Note(problem, night, $"The ban on “{ban.Trait}” work", ban.From, ban.To)
           select note,
        .. from member in problem.Week.Crew
           from entry in member.Available
           let night = problem.Week.Nights[problem.NightOf(entry.Night)]
           from note in Note(problem, night, $"{member.Name}'s availability", entry.From ?? night.Opens, entry.To ?? night.Closes)
           select note,
    ];

    private static IEnumerable<string> Note(Problem problem, Night night, string what, LocalDateTime from, LocalDateTime to)
    {
        var (window, span) = (problem.Nights[problem.NightOf(night.Id)].Span,
            new Span(problem.Grid.MinuteOf(from), problem.Grid.MinuteOf(to)));
        if (window.Contains(span)) yield break;
        var hours = $"{WeekPhrases.Night(problem.Week, night.Id)}, which is from {WeekPhrases.Clock(night.Opens)} to "
            + WeekPhrases.Clock(night.Closes);
        yield return WeekPhrases.Truncated(window.Overlaps(span)
            ? $"{what} from {WeekPhrases.Time(from)} to {WeekPhrases.Time(to)} reaches beyond {hours}; only the part within it "
                + "counts."
            : $"{what} from {WeekPhrases.Time(from)} to {WeekPhrases.Time(to)} lies outside {hours}; it has no effect. Check "
                + "the date after midnight.");
    }
}
