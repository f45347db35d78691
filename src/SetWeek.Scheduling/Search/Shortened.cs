namespace SetWeek.Scheduling.Search;

/// <summary>
/// A week that is over sooner: after its n-th night nobody is available and the launch has passed. Its plans are the plans of
/// the week that work in no later night, and people, nights and stints are numbered alike in both. Of the goals, uneven may be
/// less in it, for it does not count who is available later only; the others are the same.
/// </summary>
internal static class Shortened
{
    /// <param name="week">The week.</param>
    /// <param name="problem">The same, as a problem.</param>
    /// <param name="nights">How many of its nights are left, one at the least.</param>
    public static Week To(Week week, Problem problem, int nights)
    {
        var kept = week.Nights.Take(nights).Select(night => night.Id).ToHashSet();
        var over = problem.Nights[nights - 1].Closes < problem.Launch;
        return week with
        {
            Launch = over ? week.Nights[nights - 1].Closes : week.Launch,
            Rules = over ? week.Rules with { LaunchBufferMinutes = null } : week.Rules,
            Crew = [.. week.Crew.Select(member => member with
            {
                Available = [.. member.Available.Where(entry => kept.Contains(entry.Night))],
            })],
        };
    }
}
