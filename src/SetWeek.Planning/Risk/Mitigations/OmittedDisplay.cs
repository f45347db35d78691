using SetWeek.Model.Changes;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>A want that is left out: its work is taken out of the plan, and the rest closes up.</summary>
internal sealed record OmittedDisplay(LeaveOut Omission, int Display) : MitigationCandidate
{
    public override WeekChange Change => Omission;

    public override MitigationCase Apply(MitigationCase mitigationCase)
    {
        var problem = mitigationCase.Problem;
        return mitigationCase with
        {
            Week = Change.Apply(mitigationCase.Week),
            PlanningWeek = Change.Apply(mitigationCase.PlanningWeek),
            Schedule = mitigationCase.Schedule with
            {
                Work = [.. mitigationCase.Schedule.Work
                    .Where(work => work.Stint is not { } stint || problem.Stints[stint].Task.Display != Display)],
            },
        };
    }

    /// <summary>Wants that the tasks are for, and of which nothing has begun.</summary>
    public static IEnumerable<MitigationCandidate> For(Problem problem, IEnumerable<int> tasks) =>
        tasks.Select(task => problem.Displays[problem.Tasks[task].Display]).Distinct()
            .Where(display => !display.Must && display.AlternateOf is null && problem.Facts?.StaysPlaced[display.Index] != true)
            .Select(display => new OmittedDisplay(new LeaveOut(display.Id), display.Index));
}
