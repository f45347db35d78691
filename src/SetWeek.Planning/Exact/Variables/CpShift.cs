using Google.OrTools.Sat;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>
/// The variables of one person's shift on one night, moments in the model's units. Off duty, from and to are the night's opens.
/// </summary>
internal sealed class CpShift
{
    public required int Person { get; init; }
    public required int Night { get; init; }
    public required ILiteral Present { get; init; }

    /// <summary>Steps of the shift grid after the night's opens.</summary>
    public required IntVar FromStep { get; init; }

    public required IntVar ToStep { get; init; }
    public required LinearExpr From { get; init; }
    public required LinearExpr To { get; init; }

    /// <summary>
    /// Units from <see cref="From"/> to <see cref="To"/>: a variable of its own, so that the relaxation sees it.
    /// </summary>
    public required LinearExpr Length { get; init; }

    /// <summary>The same in steps of the shift grid; null where the start is a fact or all is.</summary>
    public IntVar? LengthStep { get; init; }

    /// <summary>Has a break.</summary>
    public required ILiteral HasBreak { get; init; }

    public required LinearExpr BreakFrom { get; init; }
    public required IntVar BreakStep { get; init; }

    /// <summary>Units of a break; those of <see cref="FixedShift"/> where it is fixed.</summary>
    public required long BreakLength { get; init; }

    /// <summary>Units on shift and not on break.</summary>
    public required LinearExpr Worked { get; init; }

    /// <summary>Stays as it is; null where it is free or off. Off for good is <see cref="Present"/> being false.</summary>
    public ScheduledShift? FixedShift { get; init; }

    /// <summary>Begun before now and not over: its from stays.</summary>
    public ScheduledShift? Begun { get; init; }

    /// <summary>Nothing of it is left to decide.</summary>
    public bool IsFixed { get; init; }
}
