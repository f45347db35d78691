using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Model.Checking;

/// <summary>Builds the plan for the plan file from what the search found.</summary>
internal static class PlanBuilder
{
    /// <summary>
    /// The plan of a schedule. Its status is optimal if every value is within tolerance of its bound, otherwise feasible.
    /// </summary>
    /// <param name="problem">The problem that the schedule solves.</param>
    /// <param name="schedule">A schedule that keeps the rules.</param>
    /// <param name="values">By goal of the problem: value of the schedule.</param>
    /// <param name="bounds">By goal of the problem: proven lower bound.</param>
    public static Plan FromSchedule(
        Problem problem, Schedule schedule, IReadOnlyList<long> values, IReadOnlyList<long> bounds) => new()
    {
        Week = problem.Week.Id,
        Status = Enumerable.Range(0, values.Count)
            .All(goal => values[goal] <= bounds[goal] + bounds[goal] * problem.Goals[goal].TolerancePercent / 100)
            ? PlanStatus.Optimal : PlanStatus.Feasible,
        Nights = PlanConverter.NightsOf(problem, schedule),
        LeftOut = LeftOutDisplays(problem, schedule),
        Goals = [.. problem.Goals.Select((choice, goal) => new GoalValue(choice.Goal, values[goal], bounds[goal]))],
        Breaches = Checker.UnavoidableBreaches(problem, schedule),
        Notes = ClippedTimes.Notes(problem),
    };

    /// <summary>The result where no plan was found within the time limit and infeasibility was not proven.</summary>
    /// <param name="problem">The problem.</param>
    /// <param name="unplaced">The stints that the closest attempt found no place for.</param>
    public static Plan Unknown(Problem problem, IReadOnlyList<Breach> unplaced) => new()
    {
        Week = problem.Week.Id, Status = PlanStatus.Unknown, Unplaced = unplaced, Notes = ClippedTimes.Notes(problem),
    };

    /// <summary>Ids of the wants of which neither the display nor its alternate is built.</summary>
    public static string[] LeftOutDisplays(Problem problem, Schedule schedule)
    {
        var placed = schedule.PlacedDisplays(problem);
        return [.. problem.Displays
            .Where(display => display is { AlternateOf: null, Must: false } && !placed[display.Index]
                && (display.Alternate is not { } alternate || !placed[alternate]))
            .Select(display => display.Id)];
    }
}
