using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Goals;

internal sealed class ShiftsGoal : IGoal
{
    public string Id => "shifts";

    public long Measure(Problem problem, Schedule schedule) => schedule.Shifts.Count;

    public GoalTerm Post(ExactModel model) => LinearExpr.Sum(model.AllDuties.Select(duty => duty.On));
}
