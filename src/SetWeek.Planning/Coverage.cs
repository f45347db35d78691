using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning;

/// <summary>
/// Which part of the planner knows a rule. Where a part does not, the rule is covered by the check alone: no plan leaves the
/// planner unchecked, but that part neither avoids breaches of the rule nor speaks of it.
/// </summary>
/// <param name="ExactModel">The CP-SAT model posts a constraint for it.</param>
/// <param name="Insertion">The serial scheme keeps it while it builds, so that weeks of any size get a first plan.</param>
/// <param name="Conflicts">Its instances can be relaxed, so that a conflict can name them.</param>
/// <param name="Repairs">A change of the week is tried where it is in a conflict.</param>
/// <param name="Slack">A plan says where it has no slack left.</param>
internal sealed record RuleCoverage(bool ExactModel, bool Insertion, bool Conflicts, bool Repairs, bool Slack);

/// <summary>How well a part of the planner knows a goal.</summary>
internal enum GoalKnowledge
{
    /// <summary>Not at all: its bound there is 0.</summary>
    None,

    /// <summary>As a lower bound, which may lie below the goal's value.</summary>
    LowerBound,

    /// <summary>As the goal's own value.</summary>
    Value,
}

/// <summary>How well each part of the planner knows a goal.</summary>
/// <param name="ExactModel">
/// The expression that the CP-SAT model minimises. Moves are a lower bound of 0 where a week has more pairs of work than the
/// model can order (<see cref="Exact.Goals.MovesObjective"/>).
/// </param>
/// <param name="Annealing">
/// The value that local search weighs. The value of hold is estimated between the plans that it simulates.
/// </param>
/// <param name="NightMaster">The linear expression over the night master's columns.</param>
/// <param name="Propagation">What propagation alone says.</param>
internal sealed record GoalCoverage(
    GoalKnowledge ExactModel, GoalKnowledge Annealing, GoalKnowledge NightMaster, GoalKnowledge Propagation);

/// <summary>
/// The table of rules and goals by the parts of the planner that must know them. A new rule or goal does not compile until it
/// has a row; tests compare each row with what the parts do on a tiny week.
/// </summary>
internal static class Coverage
{
    /// <summary>What each part of the planner does about a rule.</summary>
    public static RuleCoverage Of(RuleId rule) => rule switch
    {
        // Nobody can change the grid, be in two places, work off shift or change the past: no conflict names these four.
        RuleId.Grid => new(ExactModel: true, Insertion: true, Conflicts: false, Repairs: false, Slack: false),
        RuleId.OnePlace => new(ExactModel: true, Insertion: true, Conflicts: false, Repairs: false, Slack: false),
        RuleId.OnShift => new(ExactModel: true, Insertion: true, Conflicts: false, Repairs: false, Slack: false),
        RuleId.Frozen => new(ExactModel: true, Insertion: true, Conflicts: false, Repairs: false, Slack: false),
        RuleId.Whole => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: false),
        RuleId.Window => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: true),
        RuleId.Ban => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: false, Slack: true),
        RuleId.After => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: false, Slack: false),
        RuleId.Drying => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: false, Slack: true),
        RuleId.SameNight => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: false, Slack: false),
        RuleId.Kit => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: true),
        RuleId.Equipment => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: true),
        RuleId.Skill => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: true),
        RuleId.ZoneRoom => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: true),
        RuleId.ZoneClosed => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: false, Slack: true),
        RuleId.CleanDown => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: false, Slack: false),
        RuleId.Last => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: false, Slack: false),
        RuleId.Due => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: true),
        RuleId.Launch => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: true),
        RuleId.Availability => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: true),
        RuleId.ShiftLength => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: true),
        RuleId.Break => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: true),
        RuleId.Briefing => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: true),
        RuleId.Company => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: true),
        RuleId.Pin => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: false, Slack: false),
        RuleId.Rest => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: true),
        RuleId.YoungWorker => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: true),
        RuleId.Keyholder => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: true),
        RuleId.OpenClose => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: false),
        RuleId.TwoPerson => new(ExactModel: true, Insertion: true, Conflicts: true, Repairs: true, Slack: true),
    };

    /// <summary>How well each part of the planner knows a goal.</summary>
    public static GoalCoverage Of(GoalId goal) => goal switch
    {
        GoalId.LeftOut =>
            new(GoalKnowledge.Value, GoalKnowledge.Value, GoalKnowledge.Value, GoalKnowledge.LowerBound),
        // The planner knows no bound on the chance, so a plan at its target is proven to be there, and no other value is.
        GoalId.Hold =>
            new(GoalKnowledge.None, GoalKnowledge.Value, GoalKnowledge.None, GoalKnowledge.None),
        GoalId.Reserve =>
            new(GoalKnowledge.Value, GoalKnowledge.Value, GoalKnowledge.LowerBound, GoalKnowledge.None),
        GoalId.Bare =>
            new(GoalKnowledge.Value, GoalKnowledge.Value, GoalKnowledge.Value, GoalKnowledge.None),
        GoalId.Cost =>
            new(GoalKnowledge.Value, GoalKnowledge.Value, GoalKnowledge.LowerBound, GoalKnowledge.None),
        GoalId.Finish =>
            new(GoalKnowledge.Value, GoalKnowledge.Value, GoalKnowledge.LowerBound, GoalKnowledge.LowerBound),
        GoalId.Nights =>
            new(GoalKnowledge.Value, GoalKnowledge.Value, GoalKnowledge.LowerBound, GoalKnowledge.LowerBound),
        GoalId.Shifts =>
            new(GoalKnowledge.Value, GoalKnowledge.Value, GoalKnowledge.Value, GoalKnowledge.None),
        GoalId.Handovers =>
            new(GoalKnowledge.Value, GoalKnowledge.Value, GoalKnowledge.None, GoalKnowledge.None),
        GoalId.Moves =>
            new(GoalKnowledge.Value, GoalKnowledge.Value, GoalKnowledge.LowerBound, GoalKnowledge.None),
        GoalId.Uneven =>
            new(GoalKnowledge.Value, GoalKnowledge.Value, GoalKnowledge.LowerBound, GoalKnowledge.None),
        GoalId.Changes =>
            new(GoalKnowledge.Value, GoalKnowledge.Value, GoalKnowledge.LowerBound, GoalKnowledge.None),
        GoalId.Shuffled =>
            new(GoalKnowledge.Value, GoalKnowledge.Value, GoalKnowledge.LowerBound, GoalKnowledge.None),
    };
}
