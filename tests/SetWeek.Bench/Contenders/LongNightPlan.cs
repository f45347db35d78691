using SetWeek.Model.Problems;

namespace SetWeek.Bench.Contenders;

/// <summary>
/// Completes the work of one long night to a schedule for the checker: everybody has a shift of the whole night.
/// </summary>
internal static class LongNightPlan
{
    public static Schedule Of(Problem problem, IReadOnlyList<ScheduledWork> work) => new()
    {
        Work = work,
        Shifts = [.. problem.Crew
            .Select(person => new ScheduledShift(person.Index, 0, problem.Nights[0].Opens, problem.Nights[0].Closes, null))],
        Keyholders = [null],
    };
}
