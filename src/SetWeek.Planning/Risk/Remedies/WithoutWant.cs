using SetWeek.Model.Changes;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Risk.Remedies;

/// <summary>A want that is left out: its work is taken out of the plan, and the rest closes up.</summary>
internal sealed record WithoutWant(LeaveOut Left, int Display) : Remedy
{
    public override WeekChange Change => Left;

    public override Setting Apply(Setting to)
    {
        var problem = to.Problem;
        return to with
        {
            Week = Change.Apply(to.Week),
            Planned = Change.Apply(to.Planned),
            Schedule = to.Schedule with
            {
                Work = [.. to.Schedule.Work
                    .Where(work => work.Stint is not { } stint || problem.Stints[stint].Task.Display != Display)],
            },
        };
    }

    /// <summary>Wants that the tasks are for, and of which nothing has begun.</summary>
    public static IEnumerable<Remedy> For(Problem problem, IEnumerable<int> tasks) =>
        tasks.Select(task => problem.Displays[problem.Activities[task].Display]).Distinct()
            .Where(display => !display.Must && display.InsteadOf is null && problem.Facts?.StaysPlaced[display.Index] != true)
            .Select(display => new WithoutWant(new LeaveOut(display.Id), display.Index));
}
