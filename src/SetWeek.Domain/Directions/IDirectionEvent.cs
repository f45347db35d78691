namespace SetWeek.Domain.Directions;

/// <summary>What happens in the stream of a direction.</summary>
public interface IDirectionEvent;

public sealed record DirectionIssued(Direction Direction) : IDirectionEvent;

/// <summary>The whole of the direction anew; weeks opened before keep the one that they were opened with.</summary>
public sealed record DirectionRevised(Direction Direction) : IDirectionEvent;
