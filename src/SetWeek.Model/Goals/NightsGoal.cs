using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Goals;

/// <summary>The goal nights: the position, from 1, of the last night with work; 0 without any work.</summary>
internal sealed class NightsGoal : IGoal
{
    public GoalId Id => GoalId.Nights;

    public long Measure(Problem problem, Schedule schedule) =>
        schedule.Work.Count == 0 ? 0 : schedule.Work.Max(work => work.Night) + 1;
}
