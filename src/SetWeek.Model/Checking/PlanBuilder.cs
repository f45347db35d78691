using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Model.Checking;

/// <summary>What was found, as a plan file has it.</summary>
internal static class PlanBuilder
{
    public static Plan FromSchedule(Problem problem, Schedule schedule, IReadOnlyList<long> values, IReadOnlyList<long> bounds) => new()
    {
        Week = problem.Week.Id,
        Status = Enumerable.Range(0, values.Count)
            .All(goal => values[goal] <= bounds[goal] + bounds[goal] * problem.Goals[goal].TolerancePercent / 100)
            ? PlanStatus.Optimal : PlanStatus.Feasible,
        Nights = PlanConverter.NightsOf(problem, schedule),
        LeftOut = LeftOutDisplays(problem, schedule),
        Goals = [.. problem.Goals.Select((choice, goal) => new GoalValue(choice.Goal, values[goal], bounds[goal]))],
        Breaches = Checker.UnavoidableBreaches(problem, schedule),
    };

    /// <summary>No plan was found in time, and none was proven impossible.</summary>
    public static Plan Unknown(Problem problem) => new() { Week = problem.Week.Id, Status = PlanStatus.Unknown };

    public static string[] LeftOutDisplays(Problem problem, Schedule schedule)
    {
        var placed = schedule.PlacedDisplays(problem);
        return [.. problem.Displays
            .Where(display => display is { AlternateOf: null, Must: false } && !placed[display.Index]
                && (display.Alternate is not { } other || !placed[other]))
            .Select(display => display.Id)];
    }
}
