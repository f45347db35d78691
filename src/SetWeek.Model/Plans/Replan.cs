using NodaTime;

namespace SetWeek.Model.Plans;

/// <summary>The input of a re-plan besides the week.</summary>
/// <param name="Published">The plan that people have.</param>
/// <param name="Now">Store-local time of the re-plan. Nothing new is planned to start before it.</param>
/// <param name="Progress">What the floor has reported.</param>
public sealed record Replan(Plan Published, LocalDateTime Now, IReadOnlyList<ProgressReport> Progress);

/// <summary>
/// A report on one stint (by Task and Stint) or on one clean-down (by Night and CleanDown). Its times are those observed
/// and need not lie on the grid.
/// </summary>
public sealed record ProgressReport
{
    /// <summary>Id of the task; null for a clean-down.</summary>
    public string? Task { get; init; }

    /// <summary>Number of the stint, from 1.</summary>
    public int Stint { get; init; } = 1;

    /// <summary>Id of the night of a clean-down; null for a stint.</summary>
    public string? Night { get; init; }

    /// <summary>Id of the zone that is cleaned down; null for a stint.</summary>
    public string? CleanDown { get; init; }

    /// <summary>What has become of the work.</summary>
    public required WorkState State { get; init; }

    /// <summary>When the work began; null if it was not reported.</summary>
    public OffsetDateTime? From { get; init; }

    /// <summary>When the work ended, or will end if it is running; null if it was not reported.</summary>
    public OffsetDateTime? To { get; init; }

    /// <summary>Minutes left from now, for running or blocked work; null if they were not reported.</summary>
    public int? RemainingMinutes { get; init; }

    /// <summary>Time before which blocked work cannot start; null means unknown, so that it cannot be planned.</summary>
    public OffsetDateTime? Until { get; init; }

    /// <summary>Ids of the people who really did begun work; empty means those of the published plan.</summary>
    public IReadOnlyList<string> People { get; init; } = [];
}

/// <summary>State of reported work.</summary>
public enum WorkState
{
    /// <summary>The work has ended.</summary>
    Done,

    /// <summary>The work has begun and goes on.</summary>
    Running,

    /// <summary>The work cannot start, or cannot go on, for now.</summary>
    Blocked,

    /// <summary>The work was done but failed its check; it is planned again from the start.</summary>
    Reopened,
}
