using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Goals;

internal sealed class NightsGoal : IGoal
{
    public string Id => "nights";

    public long Measure(Problem problem, Schedule schedule) =>
        schedule.Work.Count == 0 ? 0 : schedule.Work.Max(work => work.Night) + 1;

    public GoalTerm Post(ExactModel model)
    {
        var last = model.Cp.NewIntVar(0, model.Problem.Nights.Count, "");
        foreach (var job in model.Jobs)
            model.AtLeast(last - LinearExpr.WeightedSum(job.Nights, Enumerable.Range(1, job.Nights.Length)), 0);
        return last;
    }
}
