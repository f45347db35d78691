using NodaTime;

namespace SetWeek.Model.Plans;

/// <summary>What a re-plan needs beside the week: the published plan, the time, and what has been done so far.</summary>
public sealed record Replan(Plan Published, LocalDateTime Now, IReadOnlyList<ProgressReport> Progress);

/// <summary>
/// What the floor says of one stint (Task, Stint) or of one clean-down (Night, CleanDown). Times are real ones: they need
/// not lie on the grid.
/// </summary>
public sealed record ProgressReport
{
    public string? Task { get; init; }
    public int Stint { get; init; } = 1;
    public string? Night { get; init; }
    public string? CleanDown { get; init; }
    public required WorkState State { get; init; }
    public OffsetDateTime? From { get; init; }
    public OffsetDateTime? To { get; init; }

    /// <summary>Of running or blocked work, what is left from now on; null where nobody said.</summary>
    public int? RemainingMinutes { get; init; }

    /// <summary>Blocked work does not start before this; none: it cannot be planned.</summary>
    public OffsetDateTime? Until { get; init; }
}

/// <summary>
/// Done and Running say themselves. Blocked: it cannot go on for now. Reopened: it was done, failed its check and is to be done
/// again.
/// </summary>
public enum WorkState { Done, Running, Blocked, Reopened }
