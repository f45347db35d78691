namespace SetWeek.Domain.Directions;

/// <summary>An event in the stream of a direction.</summary>
public interface IDirectionEvent;

public sealed record DirectionIssued(Direction Direction) : IDirectionEvent;

/// <summary>
/// Contains the whole revised direction. Weeks that are already open keep the version that they were opened with.
/// </summary>
public sealed record DirectionRevised(Direction Direction) : IDirectionEvent;
