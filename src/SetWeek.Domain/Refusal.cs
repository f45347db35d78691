namespace SetWeek.Domain;

/// <summary>The refusal of a decision, as a value: a code for programs and a sentence for a store lead.</summary>
public sealed record Refusal(string Code, string Sentence)
{
    /// <summary>Whether the request names something that does not exist.</summary>
    public bool Unknown { get; init; }

    /// <summary>
    /// Whether this person may not decide it, but somebody else may. If neither holds, it conflicts with the current state.
    /// </summary>
    public bool IsForbidden { get; init; }

    /// <summary>The reasons, one sentence each: what has changed, which rules the plan breaks.</summary>
    public IReadOnlyList<string> Because { get; init; } = [];

    /// <param name="kind">What was named: "kit", "person".</param>
    public static Refusal NotFound(string kind, string id) =>
        new($"unknown-{kind}", $"There is no {kind} \"{id}\".") { Unknown = true };
}
