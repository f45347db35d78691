namespace SetWeek.Domain.Directions;

/// <summary>How a kind of work is done, said once for all tasks that share it. The planner does not read it.</summary>
public sealed record TechniqueCard(string Id, string Name)
{
    /// <summary>The tasks of the direction that are done so.</summary>
    public IReadOnlyList<string> Tasks { get; init; } = [];

    /// <summary>They come before the steps.</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];

    public IReadOnlyList<CardStep> Steps { get; init; } = [];

    /// <summary>What good looks like.</summary>
    public IReadOnlyList<string> Good { get; init; } = [];

    /// <summary>The common mistakes, each with what follows from it.</summary>
    public IReadOnlyList<string> GoesWrong { get; init; } = [];

    public IReadOnlyList<string> Tools { get; init; } = [];

    public IReadOnlyList<Film> Films { get; init; } = [];

    /// <summary>Where the numbers and the advice come from.</summary>
    public IReadOnlyList<string> Sources { get; init; } = [];
}

public sealed record CardStep(string Text)
{
    /// <summary>Null: the step is clear without one.</summary>
    public Drawing? Picture { get; init; }
}

/// <summary>A drawing or photograph, in words for whoever cannot see it.</summary>
/// <param name="Shows">What it shows.</param>
/// <param name="Address">Where the chain keeps it. A person follows the link; no page loads it. Null: only the words.</param>
public sealed record Drawing(string Shows, string? Address = null);

/// <summary>A film, with what it shows in words.</summary>
/// <param name="Seconds">Its length; null if it is not known.</param>
/// <param name="Address">As of a drawing.</param>
public sealed record Film(string Title, int? Seconds = null, string? Address = null)
{
    public IReadOnlyList<FilmMoment> Said { get; init; } = [];
}

/// <param name="Second">From its beginning.</param>
public sealed record FilmMoment(int Second, string Shows);

/// <summary>A carton of a kit, by the mark on it.</summary>
public sealed record Carton(string Mark)
{
    /// <summary>What lies in it, as people read it.</summary>
    public IReadOnlyList<string> Holds { get; init; } = [];

    /// <summary>The items of the kit's lines of which it holds some.</summary>
    public IReadOnlyList<string> Items { get; init; } = [];
}
