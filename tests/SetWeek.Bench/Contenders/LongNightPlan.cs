using SetWeek.Model.Problems;

namespace SetWeek.Bench.Contenders;

/// <summary>Work of one long night as a plan that the checker reads: everybody is there all night.</summary>
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
