namespace SetWeek.Model.Weeks;

/// <summary>A display to be built. The tasks that name it build it, all of them or none.</summary>
/// <param name="Id">Id of the display.</param>
/// <param name="Name">Name that people read.</param>
/// <param name="Commitment">Whether the plan has to build it.</param>
public sealed record Display(string Id, string Name, DisplayCommitment Commitment)
{
    /// <summary>Weight in the goal leftOut: 1 to 100 for a want, 0 for a must.</summary>
    public int Value { get; init; }

    /// <summary>What may be built instead of it; null means nothing.</summary>
    public Alternate? Alternate { get; init; }
}

/// <summary>Whether a plan has to build a display.</summary>
public enum DisplayCommitment
{
    /// <summary>Every plan builds the display or its alternate.</summary>
    Must,

    /// <summary>A plan may leave the display out; the goal leftOut counts its value then.</summary>
    Want,
}

/// <summary>The display that may be built instead of another. Its own commitment and value do not count.</summary>
/// <param name="Display">Id of the replacement.</param>
/// <param name="Value">What the replacement counts in the goal leftOut, 0 to 100.</param>
public sealed record Alternate(string Display, int Value);
