using NodaTime;

namespace SetWeek.Domain.Memos;

/// <summary>
/// A short text of head office to the stores of a direction. It is a document; that a lead has read it is an event of the week.
/// The text is a note.
/// </summary>
public sealed record Memo
{
    public required string Id { get; init; }

    public required string Direction { get; init; }

    /// <summary>Only for these stores; null: for every store of the direction.</summary>
    public IReadOnlyList<string>? Stores { get; init; }

    /// <summary>Whether somebody could be hurt by not knowing it. Then it is shown before a night is opened.</summary>
    public bool IsSafety { get; init; }

    /// <summary>The id of the person at head office who sent it.</summary>
    public required string By { get; init; }

    public required Instant At { get; init; }

    /// <summary>When head office took it back; null if it stands.</summary>
    public Instant? WithdrawnAt { get; init; }

    /// <summary>The id of the note with its text.</summary>
    public static string TextIdOf(string memo) => $"memo/{memo}";

    /// <summary>Whether it is meant for a week. A week that had launched when it was sent has no use for it.</summary>
    public bool IsFor(string direction, string store, Instant launch) =>
        direction == Direction && (Stores is null || Stores.Contains(store)) && launch > At;
}
