using SetWeek.Domain.Sentences;
using SetWeek.Domain.Work;

namespace SetWeek.Service.Words;

/// <summary>The reasons for blocked work, as people read them.</summary>
public static class BlockLabels
{
    /// <summary>The reason in words; as it is stored where it has none.</summary>
    public static string Of(string? reason) => BlockWords.Of(reason ?? "");

    /// <summary>Every reason with its words, in the order of the list.</summary>
    public static IReadOnlyList<(string Reason, string Label)> All { get; } =
        [.. BlockReasons.All.Select(reason => (reason, Of(reason)))];
}
