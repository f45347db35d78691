using OneOf;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Directions;

/// <summary>
/// An instruction of head office for all stores: which displays to build, the tasks that build them, and the kits shipped.
/// </summary>
public sealed record Direction
{
    public required string Id { get; init; }
    public required string Name { get; init; }

    /// <summary>The zones that the tasks refer to. A zone that is not listed means the zone of the store with that id.</summary>
    public IReadOnlyList<DirectedZone> Zones { get; init; } = [];

    public required IReadOnlyList<DirectedDisplay> Displays { get; init; }

    /// <summary>The tasks as in a week file; their zones are those of the direction.</summary>
    public required IReadOnlyList<WeekTask> Tasks { get; init; }

    public IReadOnlyList<DirectedKit> Kits { get; init; } = [];

    /// <summary>How kinds of work are done, for people to read.</summary>
    public IReadOnlyList<TechniqueCard> Cards { get; init; } = [];

    /// <summary>The cartons in which a kit is sent; empty if the direction does not say.</summary>
    public IReadOnlyList<Carton> CartonsOf(string kit) => Kits.FirstOrDefault(sent => sent.Id == kit)?.Cartons ?? [];

    /// <summary>The marks of the cartons that hold some of an item; without an item, of all cartons of the kit.</summary>
    public IReadOnlyList<string> MarksOf(string kit, string? item) =>
        [.. CartonsOf(kit).Where(carton => item is null || carton.Items.Contains(item)).Select(carton => carton.Mark)];

    public static Direction? Evolve(Direction? direction, IDirectionEvent e) => e switch
    {
        DirectionIssued issued => issued.Direction,
        DirectionRevised revised => revised.Direction,
        _ => throw new ArgumentException($"No state follows from {e.GetType().Name}; add its case.", nameof(e)),
    };

    public static OneOf<DirectionIssued, Refusal> Issue(Direction? existing, Direction direction) =>
        existing is null
            ? new DirectionIssued(direction)
            : new Refusal("direction-issued", $"The direction \"{direction.Id}\" is already issued; revise it instead.");

    public OneOf<DirectionRevised, Refusal> Revise(Direction revision) =>
        revision.Id == Id
            ? new DirectionRevised(revision)
            : new Refusal("another-direction",
                $"The revision has the id \"{revision.Id}\", but this is the direction \"{Id}\"; correct the id.");
}

/// <param name="Or">Substitute zones in order of preference, for a store that does not have this zone.</param>
public sealed record DirectedZone(string Id, string Name, IReadOnlyList<string> Or);

/// <summary>A display as in a week file, with the features that a store must have to build it.</summary>
public sealed record DirectedDisplay(string Id, string Name, DisplayCommitment Commitment)
{
    public int Value { get; init; }
    public Alternate? Alternate { get; init; }
    public IReadOnlyList<string> Requires { get; init; } = [];

    /// <summary>What it is to look like, in a sentence or two; null if its name says it.</summary>
    public string? About { get; init; }

    public IReadOnlyList<Drawing> Drawings { get; init; } = [];

    /// <summary>
    /// Whether people can be hurt by it if it is built wrongly. Then somebody shows the work, and a second person confirms that
    /// it was shown, before it is begun.
    /// </summary>
    public bool MustBeShown { get; init; }

    public IReadOnlyList<DirectedColour> Colours { get; init; } = [];

    public IReadOnlyList<DirectedFigure> Figures { get; init; } = [];
}

/// <summary>A kit that is shipped to each store. Its arrival time belongs to the week of the store.</summary>
public sealed record DirectedKit(string Id, string Name, IReadOnlyList<DirectedLine> Lines)
{
    public IReadOnlyList<Carton> Cartons { get; init; } = [];
}

public sealed record DirectedLine(string Item, int Expected);
