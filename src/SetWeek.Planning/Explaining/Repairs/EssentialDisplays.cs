using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Repairs;

/// <summary>
/// Displays that no repair leaves out, because the store could not trade without them or somebody could be hurt: the display of
/// the last task, safety work, the only display that opens a way out, and displays that secure work already begun.
/// </summary>
internal static class EssentialDisplays
{
    public static bool MayBeLeftOut(Week week, Replan? replan, Display display)
    {
        // The alternate of a display is left out with it.
        bool IsConcerned(WeekTask task) => task.Display == display.Id || task.Display == display.Alternate?.Display;
        var tasks = week.Tasks.Where(IsConcerned).ToArray();
        return !tasks.Any(task => task.Last || task.Traits.Contains(WeekTask.SafetyTrait))
            && (!tasks.Any(OpensWayOut) || week.Tasks.Any(task => OpensWayOut(task) && !IsConcerned(task)))
            && (replan is null || !HasBegun(Problem.Of(week, replan), tasks));
    }

    private static bool OpensWayOut(WeekTask task) => task.Traits.Contains(WeekTask.WayOutTrait);

    /// <summary>True if work on the display has begun, or other work that one of its tasks secures in the same night.</summary>
    private static bool HasBegun(Problem problem, WeekTask[] tasks) => tasks.Any(task =>
        problem.Facts!.StaysPlaced[problem.DisplayOf(task.Display)] || SecuresBegunWork(problem, problem.TaskOf(task.Id)));

    private static bool SecuresBegunWork(Problem problem, int task) => problem.Tasks[task].Precedences.Any(precedence =>
        precedence.SameNight && (problem.Facts!.BegunWork[problem.Tasks[precedence.Predecessor].FirstStint] is not null
            || SecuresBegunWork(problem, precedence.Predecessor)));
}
