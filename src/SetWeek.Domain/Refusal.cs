namespace SetWeek.Domain;

/// <summary>Why not, as a value: a code for machines and a sentence that a store lead can read.</summary>
public sealed record Refusal(string Code, string Sentence)
{
    /// <summary>The request names something that is not there; nothing in the state of things stands against it.</summary>
    public bool Unknown { get; init; }

    /// <summary>What stands behind the refusal, a sentence each: what has changed, which rules break.</summary>
    public IReadOnlyList<string> Because { get; init; } = [];

    public static Refusal NotFound(string what, string id) =>
        new($"unknown-{what}", $"There is no {what} \"{id}\" here.") { Unknown = true };
}
