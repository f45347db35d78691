namespace SetWeek.Domain.Directions;

/// <summary>A figure of a display, as it is dressed and posed.</summary>
public sealed record DirectedFigure(string Name)
{
    /// <summary>The tasks in which it is dressed and posed.</summary>
    public IReadOnlyList<string> Tasks { get; init; } = [];

    /// <summary>Its pieces, each with its size, from the feet up.</summary>
    public IReadOnlyList<string> Wears { get; init; } = [];

    public string? Pose { get; init; }
    public string? Accessory { get; init; }
}

/// <summary>A colour in which a part of a display is painted.</summary>
public sealed record DirectedColour(string Name)
{
    /// <summary>The tasks that put it on.</summary>
    public IReadOnlyList<string> Tasks { get; init; } = [];
}
