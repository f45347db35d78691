using NodaTime;
using SetWeek.Domain.Plans;

namespace SetWeek.Domain.Kits;

/// <summary>
/// A delay of kits in many weeks, such as one late lorry: a batch of head office. It is a document; what it does to a week are
/// events of the week.
/// </summary>
public sealed record KitDelay
{
    public required string Id { get; init; }

    /// <summary>The person at head office who reported it.</summary>
    public required string By { get; init; }

    public required Instant Asked { get; init; }

    /// <summary>The new arrival time, local to each store; null if unknown.</summary>
    public LocalDateTime? Eta { get; init; }

    /// <summary>Stored as a note with each event, so that it can be erased.</summary>
    public string? Why { get; init; }

    /// <summary>The limits of each re-plan.</summary>
    public required PlanLimits Limits { get; init; }

    public AutoPublish AutoPublish { get; init; }

    /// <summary>Cancelled: what has not been done by then is not done. Recorded delays remain, because they are facts.</summary>
    public bool Cancelled { get; init; }

    /// <summary>The stores for which it is cancelled, by people who have access to some stores only.</summary>
    public IReadOnlyList<string> CancelledStores { get; init; } = [];

    /// <summary>The direction whose weeks are meant: those that wait for the kit. Null if the weeks were listed.</summary>
    public string? Direction { get; init; }

    /// <summary>The kit of the direction.</summary>
    public string? Kit { get; init; }

    /// <summary>With a direction: only weeks of these stores; null: of all.</summary>
    public IReadOnlyList<string>? Stores { get; init; }

    /// <summary>The id of the week from which on weeks are still to be found; null: all are found.</summary>
    public string? SearchFrom { get; init; }

    /// <summary>Why not all weeks could be found.</summary>
    public string? Failure { get; init; }

    public bool IsCancelledFor(string store) => Cancelled || CancelledStores.Contains(store);
}

/// <summary>
/// Which re-plans of a batch are published without their lead. NoChangeToPublishedShifts: those that change no shift.
/// </summary>
public enum AutoPublish { Never, NoChangeToPublishedShifts }

/// <summary>One week of a kit delay, with how far it is. Each step happens once, however often its message comes.</summary>
public sealed record KitDelayWeek
{
    public required string Id { get; init; }
    public required string Batch { get; init; }
    public required string Week { get; init; }
    public required string Store { get; init; }
    public required IReadOnlyList<string> Kits { get; init; }
    public KitDelayState State { get; init; }

    /// <summary>The requested re-plan.</summary>
    public string? Plan { get; init; }

    /// <summary>Why there is no re-plan, or why it is not published.</summary>
    public string? Reason { get; init; }

    /// <summary>The result of the re-plan.</summary>
    public KitDelayOutcome? Outcome { get; init; }

    /// <summary>Whether something is still to happen.</summary>
    public bool IsOpen => State is KitDelayState.Waiting or KitDelayState.Planning;

    /// <summary>A newer request for a plan of the week replaces that of the batch.</summary>
    public KitDelayWeek SupersededByLead() => this with
    {
        State = KitDelayState.Superseded, Reason = "A plan of this week was requested since; it knows of the delay too.",
    };

    public static string IdOf(string batch, string week) => $"{batch}/{week}";
}

/// <summary>
/// Waiting: nothing is done yet. Planning: the delay is recorded and a re-plan requested. Planned: the re-plan is settled, and
/// its lead decides. Published: published without the lead. Recorded: no plan is published, so there is nothing to re-plan.
/// Refused: the week contradicts the delay. Superseded: the store has since asked for a plan of its own, which knows the delay
/// too.
/// </summary>
public enum KitDelayState { Waiting, Planning, Planned, Published, Recorded, Refused, Superseded, Cancelled, Failed }
