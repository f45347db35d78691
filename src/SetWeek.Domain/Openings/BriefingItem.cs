namespace SetWeek.Domain.Openings;

/// <summary>Something that is said aloud when a night is opened.</summary>
/// <param name="Details">What belongs to it, a sentence each.</param>
/// <param name="IsRequired">Whether the night cannot be opened before it is said.</param>
/// <param name="Said">Whether it was said; false before the night is opened.</param>
/// <param name="Source">Where it comes from; absent for what follows from the week.</param>
public sealed record BriefingItem(
    string Id, string Sentence, IReadOnlyList<string> Details, bool IsRequired, bool Said, string? Source);
