using SetWeek.Model.Changes;
using SetWeek.Model.Durations;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>A week and a plan of it, before or after mitigations.</summary>
/// <param name="Week">The week, with the goal hold directly after what is left out.</param>
/// <param name="Schedule">A plan of the week. After a mitigation it may break rules.</param>
/// <param name="Replan">The published plan and the facts since; null before the first publication.</param>
internal sealed record MitigationCase(Week Week, Schedule Schedule, Replan? Replan)
{
    /// <summary>The week as it is, to be planned for its chance.</summary>
    /// <param name="problem">The problem of the plan.</param>
    /// <param name="schedule">The plan.</param>
    /// <param name="spread">Becomes the estimate of each task that has none; null: those tasks stay certain.</param>
    public static MitigationCase Of(Problem problem, Schedule schedule, DefaultSpread? spread) => new(problem.Week with
    {
        Hold = problem.Week.Hold with
        {
            Chance = problem.Week.Hold.Chance == 0 ? HoldTarget.DefaultChance : problem.Week.Hold.Chance,
        },
        Goals = WithHold(problem.Week.Goals),
        ReplanGoals = WithHold(problem.Week.ReplanGoals),
        Tasks = spread is null ? problem.Week.Tasks : [.. problem.Week.Tasks.Select(task => WithEstimate(task, spread))],
    }, schedule, problem.Replan);

    public Problem Problem => Problem.Of(Week, Replan);

    /// <summary>The same plan in a changed week.</summary>
    public MitigationCase WithChange(WeekChange change) => this with { Week = change.Apply(Week) };

    private static IReadOnlyList<GoalChoice> WithHold(IReadOnlyList<GoalChoice> goals)
    {
        GoalChoice[] others = [.. goals.Where(choice => choice.Goal != GoalId.Hold)];
        var before = Array.FindIndex(others, choice => choice.Goal == GoalId.LeftOut) + 1;
        return [.. others[..before], new(GoalId.Hold), .. others[before..]];
    }

    private static WeekTask WithEstimate(WeekTask task, DefaultSpread spread) => task.Estimate is not null ? task : task with
    {
        Estimate = new Estimate(task.Modes[0].Minutes * spread.OptimisticPercent / 100,
            (task.Modes[0].Minutes * spread.PessimisticPercent + 99) / 100),
    };
}
