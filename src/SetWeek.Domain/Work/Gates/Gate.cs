namespace SetWeek.Domain.Work.Gates;

/// <summary>A question that is asked before work of a kind begins, or when it seems done.</summary>
/// <param name="Text">What has to be so.</param>
/// <param name="Citation">Where it is said.</param>
/// <param name="Read">How the source was read: the text itself, a summary, from memory, or no source.</param>
public sealed record Gate(
    string Id, string Text, IReadOnlyList<string> Traits, IReadOnlyList<string> Equipment, string Citation, string Read)
{
    /// <summary>How a source was read where there is none.</summary>
    public const string NoSource = "no source";

    /// <summary>Whether the work has one of its traits, or uses one of its pieces of equipment.</summary>
    public bool AppliesTo(IReadOnlyList<string> traits, IEnumerable<string> equipment) =>
        Traits.Intersect(traits).Any() || Equipment.Intersect(equipment).Any();
}
