using SetWeek.Model.Weeks;
using NodaTime;
using SetWeek.Model.Changes;

namespace SetWeek.Model.Plans;

/// <summary>What the planner writes: a plan file (docs/formats.md). Times carry the store's offset at that instant.</summary>
public sealed record Plan
{
    public required string Week { get; init; }
    public required PlanStatus Status { get; init; }
    public IReadOnlyList<PlannedNight> Nights { get; init; } = [];

    /// <summary>Wants left out: neither they nor their alternate is placed.</summary>
    public IReadOnlyList<string> LeftOut { get; init; } = [];

    public IReadOnlyList<GoalValue> Goals { get; init; } = [];

    /// <summary>Re-plan: what the facts have already broken.</summary>
    public IReadOnlyList<Breach> Breaches { get; init; } = [];

    /// <summary>Rule instances without slack: one step tighter, and this plan would break them.</summary>
    public IReadOnlyList<Breach> Tight { get; init; } = [];

    /// <summary>Without a plan: rule instances that cannot hold together.</summary>
    public IReadOnlyList<Breach> Conflict { get; init; } = [];

    /// <summary>
    /// Proven: without any one of the conflict, the others alone could hold. False where the time ran out before.
    /// </summary>
    public bool ConflictSmallest { get; init; } = true;

    public IReadOnlyList<Repair> Repairs { get; init; } = [];
}

/// <summary>
/// Optimal: proven, no plan is better in the goals asked. Feasible: keeps every rule. Infeasible: proven, there is none.
/// Unknown: none was found in the time given.
/// </summary>
public enum PlanStatus { Optimal, Feasible, Infeasible, Unknown }

/// <summary>One night of a plan, by the ids of the week. Keyholder null: nobody works in it, or the week asks for none.</summary>
public sealed record PlannedNight
{
    public required string Night { get; init; }
    public string? Keyholder { get; init; }
    public IReadOnlyList<PlannedShift> Shifts { get; init; } = [];
    public IReadOnlyList<PlannedWork> Work { get; init; } = [];
}

/// <summary>Somebody is there from From until To; the break, if there is one, lies inside and is unpaid.</summary>
public sealed record PlannedShift(string Person, OffsetDateTime From, OffsetDateTime To, PlannedBreak? Break = null);

/// <summary>From is in it, To is not.</summary>
public sealed record PlannedBreak(OffsetDateTime From, OffsetDateTime To);

/// <summary>A stint of a task (Task, Stint from 1, Mode from 0), or the clean-down of a zone (CleanDown).</summary>
public sealed record PlannedWork
{
    public string? Task { get; init; }
    public int? Stint { get; init; }
    public int? Mode { get; init; }
    public string? CleanDown { get; init; }
    public required OffsetDateTime From { get; init; }
    public required OffsetDateTime To { get; init; }
    public IReadOnlyList<PlannedPerson> People { get; init; } = [];
}

/// <summary>Somebody at a piece of work, and the skill of its mode that they are there for.</summary>
public sealed record PlannedPerson(string Person, string Skill);

/// <summary>Bound is proven over all plans whose goals above are no worse than here; null where nothing is known.</summary>
public sealed record GoalValue(GoalId Goal, long Value, long? Bound);

/// <summary>An instance of a rule that does not hold: which rule, what it is about, and a sentence a lead can read.</summary>
public sealed record Breach(RuleId Rule, RuleSubject About, string Sentence)
{
    /// <summary>
    /// Nothing that can still be planned would mend it: no fault of the plan, and named in <see cref="Plan.Breaches"/>.
    /// </summary>
    internal bool IsUnavoidable { get; init; }
}

/// <summary>What an instance of a rule is about, by id; stints count from 1.</summary>
public sealed record RuleSubject
{
    public string? Night { get; init; }
    public string? Person { get; init; }
    public string? Task { get; init; }
    public int? Stint { get; init; }
    public string? Zone { get; init; }
    public string? Kit { get; init; }
    public string? Display { get; init; }
    public string? Skill { get; init; }
    public string? Equipment { get; init; }
}

/// <summary>
/// What makes a plan possible where there is none, proven by solving: a single change to the week or, where none serves, two.
/// </summary>
/// <param name="Changes">One, or two that only help together.</param>
/// <param name="Goals">What the plan then comes to.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record Repair(IReadOnlyList<WeekChange> Changes, IReadOnlyList<GoalValue> Goals, string Sentence);
