using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Goals;

internal sealed class CostGoal : IGoal
{
    public string Id => "cost";

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

    public GoalTerm Post(ExactModel model)
    {
        var (rules, sum) = (model.Problem.Rules, LinearExpr.NewBuilder(model.Problem.Crew.Count * 8));
        var extra = (rules.OvertimePercent ?? 100) - 100;
        foreach (var person in model.Problem.Crew)
        {
            var paid = model.PaidBy(person.Index);
            sum.AddTerm(paid, 100L * person.Rate);
            if (rules.OvertimeAfterMinutes is not { } after || extra == 0) continue;
            var (plain, most) = (Math.Max(0, (long)after - person.MinutesAlready), model.MostPaid(person.Index));
            if (most <= plain) continue;
            var overtime = model.Cp.NewIntVar(0, most - plain, "");
            if (extra > 0) model.AtMost(paid - overtime, plain);
            else model.Cp.AddMaxEquality(overtime, [paid - plain, LinearExpr.Constant(0)]);
            sum.AddTerm(overtime, (long)extra * person.Rate);
        }
        return new GoalTerm(sum, 6000);
    }
}
