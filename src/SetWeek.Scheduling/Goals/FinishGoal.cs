using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Goals;

internal sealed class FinishGoal : IGoal
{
    public string Id => "finish";

    public long Measure(Problem problem, Schedule schedule) => schedule.Work.Count == 0 ? 0 : schedule.Work.Max(work => work.To);

    public LinearExpr Post(ExactModel model) => LinearExpr.Constant(0);
}
