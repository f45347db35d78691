using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Goals;

/// <summary>
/// The goal bare: what the zones that stand bare at closes sell in a day, summed over zones and nights. A zone is bare from the
/// end of the first stint of a task that empties it until every placed task that fills it has ended.
/// </summary>
internal sealed class BareGoal : IGoal
{
    public GoalId Id => GoalId.Bare;

    public long Measure(Problem problem, Schedule schedule) =>
        BareZones.Of(problem, schedule).Sum(bare => (long)problem.Zones[bare.Zone].TradePerDay);
}
