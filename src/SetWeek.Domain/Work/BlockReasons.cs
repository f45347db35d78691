namespace SetWeek.Domain.Work;

/// <summary>Why work stands still; one a block.</summary>
public static class BlockReasons
{
    public static IReadOnlyList<string> All { get; } =
    [
        "kit-late", "kit-short", "kit-damaged", "no-skill", "no-keyholder", "no-access",
        "not-dry", "waiting-for-answer", "store-event", "safety",
    ];
}
