using NodaTime;
using SetWeek.Model.Changes;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Plans;

/// <summary>The planner's output: a plan file (docs/formats.md). Times carry the store's UTC offset at that instant.</summary>
public sealed record Plan
{
    /// <summary>Id of the week that the plan is for.</summary>
    public required string Week { get; init; }

    /// <summary>Whether a plan was found and what is proven about it.</summary>
    public required PlanStatus Status { get; init; }

    /// <summary>The shifts and work of each night, in time order; empty where there is no plan.</summary>
    public IReadOnlyList<PlannedNight> Nights { get; init; } = [];

    /// <summary>Ids of the wants that are left out: neither they nor their alternates are built.</summary>
    public IReadOnlyList<string> LeftOut { get; init; } = [];

    /// <summary>Value and bound of each goal asked for, in the order asked.</summary>
    public IReadOnlyList<GoalValue> Goals { get; init; } = [];

    /// <summary>
    /// Rule instances that the facts of a re-plan already broke. No plan could keep them; empty for a first plan.
    /// </summary>
    public IReadOnlyList<Breach> Breaches { get; init; } = [];

    /// <summary>Rule instances that hold without slack: one step tighter, and this plan would break them.</summary>
    public IReadOnlyList<Breach> Tight { get; init; } = [];

    /// <summary>A minimal infeasible subset of the rule instances, where no plan exists; otherwise empty.</summary>
    public IReadOnlyList<Breach> Conflict { get; init; } = [];

    /// <summary>
    /// True if <see cref="Conflict"/> is proven irreducible: without any one of its instances the others can hold together.
    /// False if the time limit stopped that proof.
    /// </summary>
    public bool ConflictSmallest { get; init; } = true;

    /// <summary>
    /// Changes to the week that are proven to make a plan possible, in the order of the goal values that they give.
    /// </summary>
    public IReadOnlyList<Repair> Repairs { get; init; } = [];

    /// <summary>
    /// Where no plan was found in the time given: the stints that the closest attempt found no place for (rule whole). They may
    /// fit in another plan.
    /// </summary>
    public IReadOnlyList<Breach> Unplaced { get; init; } = [];

    /// <summary>Sentences on times of the week that count only in part, because they reach beyond their night.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];
}

/// <summary>How a search ended.</summary>
public enum PlanStatus
{
    /// <summary>A plan was found, and every goal's value is proven best within its tolerance.</summary>
    Optimal,

    /// <summary>A plan was found that keeps every rule; a better one may exist.</summary>
    Feasible,

    /// <summary>It is proven that no plan keeps every rule.</summary>
    Infeasible,

    /// <summary>No plan was found within the time limit, and none was proven impossible.</summary>
    Unknown,
}

/// <summary>The shifts and work of one night. It refers to people, tasks and zones by their ids in the week.</summary>
public sealed record PlannedNight
{
    /// <summary>Id of the night.</summary>
    public required string Night { get; init; }

    /// <summary>Id of the night's keyholder; null if nobody is on shift or the rules require none.</summary>
    public string? Keyholder { get; init; }

    /// <summary>One shift for each person who comes.</summary>
    public IReadOnlyList<PlannedShift> Shifts { get; init; } = [];

    /// <summary>Stints and clean-downs.</summary>
    public IReadOnlyList<PlannedWork> Work { get; init; } = [];
}

/// <summary>The time for which a person is in the store in one night. Half-open.</summary>
/// <param name="Person">Id of the person.</param>
/// <param name="From">Start.</param>
/// <param name="To">End.</param>
/// <param name="Break">The unpaid break within the shift; null means none.</param>
public sealed record PlannedShift(string Person, OffsetDateTime From, OffsetDateTime To, PlannedBreak? Break = null);

/// <summary>A break. Half-open.</summary>
/// <param name="From">Start.</param>
/// <param name="To">End.</param>
public sealed record PlannedBreak(OffsetDateTime From, OffsetDateTime To);

/// <summary>A stint of a task, or the clean-down of a zone if <see cref="CleanDown"/> is given.</summary>
public sealed record PlannedWork
{
    /// <summary>Id of the task; null for a clean-down.</summary>
    public string? Task { get; init; }

    /// <summary>Number of the stint, from 1; null for a clean-down.</summary>
    public int? Stint { get; init; }

    /// <summary>Position of the mode in the task's list, from 0; null for a clean-down.</summary>
    public int? Mode { get; init; }

    /// <summary>Id of the zone that is cleaned down; null for a stint.</summary>
    public string? CleanDown { get; init; }

    /// <summary>Start, included.</summary>
    public required OffsetDateTime From { get; init; }

    /// <summary>End, not included.</summary>
    public required OffsetDateTime To { get; init; }

    /// <summary>The people at work; empty if the mode needs nobody.</summary>
    public IReadOnlyList<PlannedPerson> People { get; init; } = [];
}

/// <summary>A person assigned to work, with the skill requirement that the person fills.</summary>
/// <param name="Person">Id of the person.</param>
/// <param name="Skill">The skill required.</param>
public sealed record PlannedPerson(string Person, string Skill);

/// <summary>The value of a goal in a plan and the lower bound proven for it. Smaller values are better.</summary>
/// <param name="Goal">Id of the goal.</param>
/// <param name="Value">Value in the goal's unit.</param>
/// <param name="Bound">
/// Proven lower bound over all plans whose higher goals are no worse than in this plan; null means that none is known.
/// </param>
public sealed record GoalValue(GoalId Goal, long Value, long? Bound);

/// <summary>An instance of a rule: one that does not hold, or one that a conflict or a tight plan names.</summary>
/// <param name="Rule">Id of the rule.</param>
/// <param name="About">What the instance is about.</param>
/// <param name="Sentence">The same in a sentence for the store lead.</param>
public sealed record Breach(RuleId Rule, RuleSubject About, string Sentence)
{
    /// <summary>
    /// True if facts of a re-plan alone break the rule, so that no plan could avoid it. <see cref="Plan.Breaches"/> lists it.
    /// </summary>
    internal bool IsUnavoidable { get; init; }
}

/// <summary>What an instance of a rule is about. Only the parts that apply are given.</summary>
public sealed record RuleSubject
{
    /// <summary>Id of the night.</summary>
    public string? Night { get; init; }

    /// <summary>Id of the person.</summary>
    public string? Person { get; init; }

    /// <summary>Id of the task.</summary>
    public string? Task { get; init; }

    /// <summary>Number of the task's stint, from 1.</summary>
    public int? Stint { get; init; }

    /// <summary>Id of the zone.</summary>
    public string? Zone { get; init; }

    /// <summary>Id of the kit.</summary>
    public string? Kit { get; init; }

    /// <summary>Id of the display.</summary>
    public string? Display { get; init; }

    /// <summary>The skill.</summary>
    public string? Skill { get; init; }

    /// <summary>Id of the equipment.</summary>
    public string? Equipment { get; init; }
}

/// <summary>
/// A change that makes an infeasible week feasible, proven by solving the changed week. It has several parts only if no
/// single change was found.
/// </summary>
/// <param name="Changes">One change, or several that help only together.</param>
/// <param name="Goals">Goal values of a plan for the changed week.</param>
/// <param name="Sentence">The changes in a sentence for the store lead.</param>
public sealed record Repair(IReadOnlyList<WeekChange> Changes, IReadOnlyList<GoalValue> Goals, string Sentence);
