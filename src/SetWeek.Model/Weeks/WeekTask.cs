namespace SetWeek.Model.Weeks;

/// <summary>A task: work for one display in one zone, done in one or more stints.</summary>
public sealed record WeekTask
{
    /// <summary>
    /// Traits with a meaning of their own: work that keeps people safe, and work that opens a way out of the building. No repair
    /// leaves it out.
    /// </summary>
    public const string SafetyTrait = "safety", WayOutTrait = "way-out";

    /// <summary>Id of the task.</summary>
    public required string Id { get; init; }

    /// <summary>Name that people read.</summary>
    public required string Name { get; init; }

    /// <summary>Id of the display that it helps to build.</summary>
    public required string Display { get; init; }

    /// <summary>Id of the zone in which it is done.</summary>
    public required string Zone { get; init; }

    /// <summary>The alternative ways of doing it, at least one. Each stint takes one of them.</summary>
    public required IReadOnlyList<Mode> Modes { get; init; }

    /// <summary>Number of equal parts into which the task is split. Each is done without interruption.</summary>
    public int Stints { get; init; } = 1;

    /// <summary>Tasks that must end before any stint of this one starts.</summary>
    public IReadOnlyList<TaskPrecedence> After { get; init; } = [];

    /// <summary>Kits that must have arrived before any stint starts.</summary>
    public IReadOnlyList<KitRequirement> Needs { get; init; } = [];

    /// <summary>Properties of the work that bans and young-worker rules refer to, for example "noisy".</summary>
    public IReadOnlyList<string> Traits { get; init; } = [];

    /// <summary>Id of the night by whose closes the task must end; null means no due night.</summary>
    public string? Due { get; init; }

    /// <summary>
    /// True if all other work ends before it starts, as for the final floor clean. At most one task of a week.
    /// </summary>
    public bool Last { get; init; }

    /// <summary>True if its first stint leaves the zone bare: nothing is sold there until it is filled.</summary>
    public bool Empties { get; init; }

    /// <summary>True if the zone sells again only once the task is done.</summary>
    public bool Fills { get; init; }

    /// <summary>Minutes after its last stint in which nobody works in its zone; 0 means that it closes nothing.</summary>
    public int ClosesZoneMinutes { get; init; }

    /// <summary>Range of the duration, for the goal hold and the risk; null means that the duration is certain.</summary>
    public Estimate? Estimate { get; init; }

    /// <summary>What to inspect when the task is done, for the crew. The planner does not read it.</summary>
    public IReadOnlyList<string> Checks { get; init; } = [];

    /// <summary>How to do the task, for the crew. The planner does not read it.</summary>
    public IReadOnlyList<string> Steps { get; init; } = [];

    /// <summary>Safety notes for the crew. The planner does not read them.</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];
}

/// <summary>A finish-to-start precedence with a minimum time lag: the successor starts after the predecessor's end.</summary>
/// <param name="Task">Id of the predecessor.</param>
public sealed record TaskPrecedence(string Task)
{
    /// <summary>Minimum lag in elapsed minutes. The day between two nights counts.</summary>
    public int DryMinutes { get; init; }

    /// <summary>True if every stint of the successor lies in the night of the predecessor's last stint.</summary>
    public bool SameNight { get; init; }
}

/// <summary>A kit, or one item of it, that a task needs before it starts.</summary>
/// <param name="Kit">Id of the kit.</param>
public sealed record KitRequirement(string Kit)
{
    /// <summary>The item needed; null means every line of the kit.</summary>
    public string? Item { get; init; }

    /// <summary>Good pieces of the item that the task uses. It has no effect where no item is named.</summary>
    public int Count { get; init; } = 1;
}

/// <summary>The range of a task's duration in its first mode, whose minutes are the most likely value.</summary>
/// <param name="Optimistic">Shortest duration in minutes.</param>
/// <param name="Pessimistic">Longest duration in minutes.</param>
public sealed record Estimate(int Optimistic, int Pessimistic);
