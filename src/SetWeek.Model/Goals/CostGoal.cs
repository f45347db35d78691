using SetWeek.Model.Weeks;
using SetWeek.Model.Problems;

namespace SetWeek.Model.Goals;

internal sealed class CostGoal : IGoal
{
    public GoalId Id => GoalId.Cost;

    public long Measure(Problem problem, Schedule schedule)
    {
        var paid = new long[problem.Crew.Count];
        foreach (var shift in schedule.Shifts) paid[shift.Person] += shift.PaidMinutes;
        var percent = problem.Rules.OvertimePercent ?? 100;
        Int128 hundredthsOfMinutes = 0;
        foreach (var person in problem.Crew)
        {
            var minutes = paid[person.Index];
            var plain = problem.Rules.OvertimeAfterMinutes is { } after ? Math.Max(0, after - person.MinutesAlready) : minutes;
            var overtime = Math.Max(0, minutes - plain);
            hundredthsOfMinutes += (Int128)person.Rate * (100 * (minutes - overtime) + (Int128)percent * overtime);
        }
        // A rate is for an hour and a percent for a whole: 60 x 100. Rounded up once, here.
        return checked((long)((hundredthsOfMinutes + 5999) / 6000));
    }
}
