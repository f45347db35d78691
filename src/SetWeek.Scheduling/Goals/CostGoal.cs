using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Goals;

internal sealed class CostGoal : IGoal
{
    public string Id => "cost";

    public long Measure(Problem problem, Schedule schedule) => 0;

    public LinearExpr Post(ExactModel model) => LinearExpr.Constant(0);
}
