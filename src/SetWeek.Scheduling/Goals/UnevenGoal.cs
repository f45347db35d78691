using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Goals;

internal sealed class UnevenGoal : IGoal
{
    public string Id => "uneven";

    public long Measure(Problem problem, Schedule schedule)
    {
        var paid = new long[problem.Crew.Count];
        foreach (var shift in schedule.Shifts) paid[shift.Person] += shift.PaidMinutes;
        var able = problem.Crew.Where(person => person.Available.Any(entries => entries.Count > 0))
            .Select(person => paid[person.Index]).ToArray();
        return able.Length == 0 ? 0 : able.Max() - able.Min();
    }

    public GoalTerm Post(ExactModel model)
    {
        var able = model.Problem.Crew.Where(person => person.Available.Any(entries => entries.Count > 0)).ToArray();
        if (able.Length == 0) return LinearExpr.Constant(0);
        var top = able.Max(person => model.MostPaid(person.Index));
        var (most, least) = (model.Cp.NewIntVar(0, top, ""), model.Cp.NewIntVar(0, top, ""));
        foreach (var person in able)
        {
            var paid = model.PaidBy(person.Index);
            model.AtLeast(most - paid, 0);
            model.AtMost(least - paid, 0);
        }
        return most - least;
    }
}
