using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Bounds;

/// <summary>
/// A week that is over sooner: by a minute at which its launch is, and nobody is available in a night that opens later. Its plans
/// are the plans of the week that are done by then, and people, nights and stints are numbered alike in both. Of the goals,
/// uneven may be less in it, for it does not count who is available later only; the others are the same.
/// </summary>
internal static class TruncatedWeek
{
    /// <param name="week">The week.</param>
    /// <param name="problem">The same, as a problem.</param>
    /// <param name="nights">How many of its nights are left, one at the least.</param>
    public static Week AfterNights(Week week, Problem problem, int nights) => AtMinute(week, problem, problem.Nights[nights - 1].Closes);

    /// <summary>
    /// Over by a minute or, where the clock is put back and that minute's time has been an hour before, by the first after it
    /// that can be said.
    /// </summary>
    public static Week AtMinute(Week week, Problem problem, int minute)
    {
        while (problem.Grid.MinuteOf(Local(minute)) < minute) minute++;
        var kept = problem.Nights.Where(night => night.Opens < minute).Select(night => night.Id).ToHashSet();
        var over = minute < problem.Launch;
        return week with
        {
            Launch = over ? Local(minute) : week.Launch,
            Rules = over ? week.Rules with { LaunchBufferMinutes = null } : week.Rules,
            Crew = [.. week.Crew.Select(member => member with
            {
                Available = [.. member.Available.Where(entry => kept.Contains(entry.Night))],
            })],
        };

        NodaTime.LocalDateTime Local(int at) => problem.Grid.TimeOf(at).LocalDateTime;
    }
}
