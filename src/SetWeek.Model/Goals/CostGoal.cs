using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Goals;

/// <summary>
/// The goal cost: wages in minor units. Paid minutes, breaks excluded, count at the hourly rate; those beyond the overtime
/// threshold of the pay week count at the overtime percentage. The sum is exact and rounded up once, at the end.
/// </summary>
internal sealed class CostGoal : IGoal
{
    public GoalId Id => GoalId.Cost;

    public long Measure(Problem problem, Schedule schedule)
    {
        var paid = new long[problem.Crew.Count];
        foreach (var shift in schedule.Shifts) paid[shift.Person] += shift.PaidMinutes;
        var percent = problem.Rules.OvertimePercent ?? 100;
        Int128 scaledCost = 0;
        foreach (var person in problem.Crew)
        {
            var minutes = paid[person.Index];
            var normal = problem.Rules.OvertimeAfterMinutes is { } after ? Math.Max(0, after - person.MinutesAlready) : minutes;
            var overtime = Math.Max(0, minutes - normal);
            scaledCost += (Int128)person.Rate * (100 * (minutes - overtime) + (Int128)percent * overtime);
        }
        // Rates are per hour and overtime is in percent, so the sum is 60 x 100 times too large.
        return checked((long)((scaledCost + 5999) / 6000));
    }
}
