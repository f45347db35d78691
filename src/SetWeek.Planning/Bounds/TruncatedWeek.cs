using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Bounds;

/// <summary>
/// A copy of a week that ends sooner: its launch is brought forward to a minute, and nobody is available in a night that opens at
/// or after that minute. Its plans are exactly the plans of the week that finish by then. People, nights and stints keep their
/// indexes. Every goal keeps its value except uneven, which can be smaller: it no longer counts people available only later.
/// </summary>
internal static class TruncatedWeek
{
    /// <param name="week">The week.</param>
    /// <param name="problem">The same week, indexed.</param>
    /// <param name="nights">Number of nights to keep, at least 1.</param>
    public static Week AfterNights(Week week, Problem problem, int nights) =>
        AtMinute(week, problem, problem.Nights[nights - 1].Closes);

    /// <summary>
    /// The week that ends at a minute. When the clock is put back, a local time occurs twice and means the first occurrence.
    /// A minute in the second occurrence is therefore replaced by the next one that a local time can name.
    /// </summary>
    public static Week AtMinute(Week week, Problem problem, int minute)
    {
        while (problem.Grid.MinuteOf(Local(minute)) < minute) minute++;
        var keptNights = problem.Nights.Where(night => night.Opens < minute).Select(night => night.Id).ToHashSet();
        var isShorter = minute < problem.Launch;
        return week with
        {
            Launch = isShorter ? Local(minute) : week.Launch,
            Rules = isShorter ? week.Rules with { LaunchBufferMinutes = null } : week.Rules,
            Crew = [.. week.Crew.Select(member => member with
            {
                Available = [.. member.Available.Where(entry => keptNights.Contains(entry.Night))],
            })],
        };

        NodaTime.LocalDateTime Local(int minuteOfWeek) => problem.Grid.TimeOf(minuteOfWeek).LocalDateTime;
    }
}
