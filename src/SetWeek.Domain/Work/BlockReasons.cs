namespace SetWeek.Domain.Work;

/// <summary>The reasons for blocked work; each block has one.</summary>
public static class BlockReasons
{
    public static IReadOnlyList<string> All { get; } =
    [
        "kit-late", "kit-short", "kit-damaged", "piece-missing", "piece-damaged", "does-not-fit", "no-power", "no-access",
        "no-skill", "no-keyholder", "person-hurt", "person-gone", "not-dry", "waiting-for-answer", "store-event", "safety",
    ];
}
