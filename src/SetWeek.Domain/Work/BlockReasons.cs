namespace SetWeek.Domain.Work;

/// <summary>The reasons for blocked work; each block has one.</summary>
public static class BlockReasons
{
    public static IReadOnlyList<string> All { get; } =
    [
        "kit-late", "kit-short", "kit-damaged", "no-skill", "no-keyholder", "no-access",
        "not-dry", "waiting-for-answer", "store-event", "safety",
    ];
}
