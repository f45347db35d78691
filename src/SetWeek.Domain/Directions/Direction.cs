using OneOf;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Directions;

/// <summary>
/// Head office's instruction, the same for every store: what is to stand, how it is built, what is shipped for it.
/// </summary>
public sealed record Direction
{
    public required string Id { get; init; }
    public required string Name { get; init; }

    /// <summary>The zones that the tasks name; one that is not listed is the store's own of that id.</summary>
    public IReadOnlyList<DirectedZone> Zones { get; init; } = [];

    public required IReadOnlyList<DirectedDisplay> Displays { get; init; }

    /// <summary>As in a week file, in the direction's zones.</summary>
    public required IReadOnlyList<WeekTask> Tasks { get; init; }

    public IReadOnlyList<DirectedKit> Kits { get; init; } = [];

    public static Direction? Evolve(Direction? direction, IDirectionEvent happened) => happened switch
    {
        DirectionIssued issued => issued.Direction,
        DirectionRevised revised => revised.Direction,
        _ => direction,
    };

    public static OneOf<DirectionIssued, Refusal> Issue(Direction? already, Direction direction) =>
        already is null
            ? new DirectionIssued(direction)
            : new Refusal("direction-issued", $"Direction \"{direction.Id}\" is issued already; revise it instead.");

    public OneOf<DirectionRevised, Refusal> Revise(Direction revision) =>
        revision.Id == Id
            ? new DirectionRevised(revision)
            : new Refusal("another-direction", $"This is direction \"{Id}\"; the revision is of \"{revision.Id}\".");
}

/// <param name="Or">Zones to use, first come first served, in a store that does not have this one.</param>
public sealed record DirectedZone(string Id, string Name, IReadOnlyList<string> Or);

/// <summary>A display as directed: as in a week file, with the features that a store must have for it.</summary>
public sealed record DirectedDisplay(string Id, string Name, DisplayCommitment Commitment)
{
    public int Value { get; init; }
    public Alternate? Alternate { get; init; }
    public IReadOnlyList<string> Requires { get; init; } = [];
}

/// <summary>What is shipped to each store; when it comes is the week's business.</summary>
public sealed record DirectedKit(string Id, string Name, IReadOnlyList<DirectedLine> Lines);

public sealed record DirectedLine(string Item, int Expected);
