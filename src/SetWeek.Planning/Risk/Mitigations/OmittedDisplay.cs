using SetWeek.Model.Changes;
using SetWeek.Model.Problems;
using SetWeek.Planning.Explaining.Repairs;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>Leaves out an optional display. Its work is removed from the plan, and later work can start earlier.</summary>
internal sealed record OmittedDisplay(LeaveOut Omission, int Display, long Value) : MitigationCandidate
{
    public override WeekChange Change => Omission;

    public override long LeftOutValue => Value;

    public override MitigationCase Apply(MitigationCase mitigationCase)
    {
        var problem = mitigationCase.Problem;
        return mitigationCase.WithChange(Change) with
        {
            Schedule = mitigationCase.Schedule with
            {
                Work = [.. mitigationCase.Schedule.Work
                    .Where(work => work.Stint is not { } stint || problem.Stints[stint].Task.Display != Display)],
            },
        };
    }

    /// <summary>
    /// For each optional display of the tasks that may be left out: no work on it has begun, and none of it keeps people safe.
    /// </summary>
    public static IEnumerable<MitigationCandidate> For(Problem problem, IEnumerable<int> tasks) =>
        tasks.Select(task => problem.Displays[problem.Tasks[task].Display]).Distinct()
            .Where(display => !display.Must && display.AlternateOf is null
                && EssentialDisplays.MayBeLeftOut(problem.Week, problem.Replan, problem.Week.Displays[display.Index]))
            .Select(display => new OmittedDisplay(new LeaveOut(display.Id), display.Index, display.Value));
}
