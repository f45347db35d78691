using Google.OrTools.Sat;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>
/// The variables of one person's shift in one night. Times are in the model's units. Without a shift, <see cref="From"/> and
/// <see cref="To"/> are the opening of the night.
/// </summary>
internal sealed class CpShift
{
    public required int Person { get; init; }
    public required int Night { get; init; }

    /// <summary>The person has a shift in that night.</summary>
    public required ILiteral Present { get; init; }

    /// <summary>Start, in steps of the shift grid after the night opens.</summary>
    public required IntVar FromStep { get; init; }

    /// <summary>End, in steps of the shift grid after the night opens.</summary>
    public required IntVar ToStep { get; init; }

    public required LinearExpr From { get; init; }
    public required LinearExpr To { get; init; }

    /// <summary>
    /// Units from <see cref="From"/> to <see cref="To"/>. A free shift has a variable for it, which strengthens the linear
    /// relaxation.
    /// </summary>
    public required LinearExpr Length { get; init; }

    /// <summary>The length in steps of the shift grid; null where the shift has begun or is fixed.</summary>
    public IntVar? LengthStep { get; init; }

    /// <summary>The shift has a break.</summary>
    public required ILiteral HasBreak { get; init; }

    /// <summary>Start of the break. Any value where there is none.</summary>
    public required LinearExpr BreakFrom { get; init; }

    /// <summary>Start of the break, in steps of the grid after the night opens.</summary>
    public required IntVar BreakStep { get; init; }

    /// <summary>Length of a break; of a fixed or begun break its own length.</summary>
    public required long BreakLength { get; init; }

    /// <summary>Length without the break.</summary>
    public required LinearExpr Worked { get; init; }

    /// <summary>The fixed shift; null where it is free, or fixed to be absent.</summary>
    public ScheduledShift? FixedShift { get; init; }

    /// <summary>The published shift that has begun and not ended (re-plan): its start is fixed.</summary>
    public ScheduledShift? Begun { get; init; }

    /// <summary>All of it is fixed: to <see cref="FixedShift"/>, or to be absent.</summary>
    public bool IsFixed { get; init; }
}
