using NodaTime;
using SetWeek.Model.Files;

namespace SetWeek.Model.Weeks;

/// <summary>
/// The planner's input: a week file (docs/formats.md). Lengths are whole minutes. Times are store-local, to the minute, and
/// are read in the store's time zone. A week is valid if <see cref="WeekFile"/> has read or checked it; the type itself
/// checks nothing.
/// </summary>
public sealed record Week
{
    /// <summary>Id of the week, for example "first-rain.harbour-street"; a plan refers to it.</summary>
    public required string Id { get; init; }

    /// <summary>ISO 4217 code of the currency in which all money of the week is counted, in minor units.</summary>
    public required string Currency { get; init; }

    /// <summary>
    /// Length of a time slot in minutes. The planner starts and ends work on whole slots after a night opens.
    /// </summary>
    public int GridMinutes { get; init; } = 5;

    /// <summary>Store-local time by which every display must be finished.</summary>
    public required LocalDateTime Launch { get; init; }

    /// <summary>The store in which the work is done.</summary>
    public required Store Store { get; init; }

    /// <summary>The nights in which work can be planned, in time order and without overlap.</summary>
    public required IReadOnlyList<Night> Nights { get; init; }

    /// <summary>The people who can be given shifts. Where several could be the keyholder, the first in this order is.</summary>
    public required IReadOnlyList<CrewMember> Crew { get; init; }

    /// <summary>The kits that tasks may need.</summary>
    public IReadOnlyList<Kit> Kits { get; init; } = [];

    /// <summary>The displays to build, alternates included.</summary>
    public required IReadOnlyList<Display> Displays { get; init; }

    /// <summary>The tasks that build the displays.</summary>
    public required IReadOnlyList<WeekTask> Tasks { get; init; }

    /// <summary>The parameters of the rules.</summary>
    public required RuleSet Rules { get; init; }

    /// <summary>How surely a plan has to hold: what the goal "hold" asks for.</summary>
    public HoldTarget Hold { get; init; } = new();

    /// <summary>Parts of the plan that somebody has fixed.</summary>
    public IReadOnlyList<Pin> Pins { get; init; } = [];

    /// <summary>Goals of a first plan, compared in this order, most important first.</summary>
    public IReadOnlyList<GoalChoice> Goals { get; init; } = DefaultGoals;

    /// <summary>Goals of a re-plan, compared in this order, most important first.</summary>
    public IReadOnlyList<GoalChoice> ReplanGoals { get; init; } = DefaultReplanGoals;

    /// <summary>Goals of a first plan where the week file names none.</summary>
    public static IReadOnlyList<GoalChoice> DefaultGoals { get; } =
    [
        new(GoalId.LeftOut), new(GoalId.Hold), new(GoalId.Bare), new(GoalId.Cost), new(GoalId.Handovers), new(GoalId.Moves),
        new(GoalId.Finish),
    ];

    /// <summary>Goals of a re-plan where the week file names none.</summary>
    public static IReadOnlyList<GoalChoice> DefaultReplanGoals { get; } =
    [
        new(GoalId.LeftOut), new(GoalId.Changes), new(GoalId.Hold), new(GoalId.Shuffled), new(GoalId.Bare), new(GoalId.Cost),
        new(GoalId.Finish),
    ];
}
