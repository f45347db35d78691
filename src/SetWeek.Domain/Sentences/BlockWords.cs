namespace SetWeek.Domain.Sentences;

/// <summary>The reasons for blocked work, in words.</summary>
public static class BlockWords
{
    private static readonly IReadOnlyDictionary<string, string> Words = new Dictionary<string, string>
    {
        ["kit-late"] = "Kit late", ["kit-short"] = "Kit short", ["kit-damaged"] = "Kit damaged", ["piece-missing"] = "A piece is missing",
        ["piece-damaged"] = "A piece is damaged", ["does-not-fit"] = "It does not fit", ["no-power"] = "No power",
        ["no-access"] = "No way in, or alarm", ["no-skill"] = "Nobody with the skill", ["no-keyholder"] = "No keyholder",
        ["person-hurt"] = "Somebody is hurt", ["person-gone"] = "Somebody has left", ["not-dry"] = "Wet, not dry",
        ["waiting-for-answer"] = "Waiting for an answer", ["store-event"] = "The store needs the place", ["safety"] = "Not safe",
    };

    /// <summary>The reason in words, as "Wet, not dry"; as it is stored where it has none.</summary>
    public static string Of(string reason) => Words.GetValueOrDefault(reason, reason);
}
