using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Goals;

/// <summary>
/// The goal finish: the makespan, in elapsed minutes from the first night's opens to the end of the last work.
/// </summary>
internal sealed class FinishGoal : IGoal
{
    public GoalId Id => GoalId.Finish;

    public long Measure(Problem problem, Schedule schedule) =>
        schedule.Work.Count == 0 ? 0 : schedule.Work.Max(work => work.To);
}
