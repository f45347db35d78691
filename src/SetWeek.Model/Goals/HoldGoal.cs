using SetWeek.Model.Problems;
using SetWeek.Model.Simulation;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Goals;

/// <summary>
/// The goal hold: how many per mille of the scenarios the plan falls short of the chance asked for; 0 if it reaches it. A chance
/// constraint over a fixed sample (sample average approximation: Luedtke and Ahmed 2008, from memory).
/// </summary>
internal sealed class HoldGoal : IGoal
{
    public GoalId Id => GoalId.Hold;

    public long Measure(Problem problem, Schedule schedule) =>
        problem.Week.Hold.Chance == 0 ? 0 : Shortfall(problem.Week.Hold, HeldScenarios.Of(problem, schedule).Held);

    /// <summary>True if the goal is asked for and some duration varies. Otherwise every scenario is equal.</summary>
    public static bool IsAtStake(Problem problem) => problem.Week.Hold.Chance > 0
        && problem.PositionOf(GoalId.Hold) >= 0 && problem.Week.Tasks.Any(task => task.Estimate is not null);

    /// <summary>
    /// The week without the goal, for questions about whether there is a plan at all. Simulating each plan would take most of the
    /// time.
    /// </summary>
    public static Week WithoutHold(Week week) => week with { Goals = Others(week.Goals), ReplanGoals = Others(week.ReplanGoals) };

    private static GoalChoice[] Others(IReadOnlyList<GoalChoice> goals) =>
        [.. goals.Where(choice => choice.Goal != GoalId.Hold).DefaultIfEmpty(new(GoalId.Cost))];

    /// <summary>The goal's value where so many scenarios are held.</summary>
    public static long Shortfall(HoldTarget hold, int held) => Math.Max(0, 10L * hold.Chance - 1000L * held / hold.Scenarios);
}
