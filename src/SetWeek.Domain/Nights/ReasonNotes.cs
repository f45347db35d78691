namespace SetWeek.Domain.Nights;

/// <summary>The ids of the notes with reasons and decisions in words: of closing a night, and of the walk-through.</summary>
public static class ReasonNotes
{
    /// <summary>The reason of an answer to a check.</summary>
    /// <param name="report">The report that answers it.</param>
    public static string ReasonIdOf(string week, string report, string check) => $"{PrefixOf(week)}{report}/{check}";

    /// <summary>Why something stays half-secured when a night is closed.</summary>
    /// <param name="report">The report that closes the night.</param>
    public static string DecisionIdOf(string week, string report) => $"{PrefixOf(week)}{report}";

    /// <summary>What the ids of all these notes of a week begin with.</summary>
    public static string PrefixOf(string week) => $"reason/{week}/";
}
