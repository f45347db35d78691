using Google.OrTools.Sat;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>
/// The variables of one piece of work: a stint, or a zone's clean-down on a night. Moments are in the model's units.
/// </summary>
internal sealed class ExactJob
{
    public required int Index { get; init; }

    /// <summary>Null for a clean-down.</summary>
    public required Stint? Stint { get; init; }

    public required int Zone { get; init; }

    /// <summary>Of a clean-down; null for a stint.</summary>
    public required int? Night { get; init; }

    public required IReadOnlyList<Way> Ways { get; init; }

    /// <summary>By mode: units that it lasts.</summary>
    public required long[] Sizes { get; init; }

    public required ILiteral Present { get; init; }
    public required ILiteral[] Modes { get; init; }
    public required ILiteral[] Nights { get; init; }

    /// <summary>By mode and night: done that way that night.</summary>
    public required ILiteral[,] Places { get; init; }

    /// <summary>By mode and night; null where there is no such place.</summary>
    public required ExactSlots?[,] Slots { get; init; }

    public required IntVar Start { get; init; }
    public required LinearExpr Size { get; init; }
    public required LinearExpr End { get; init; }

    /// <summary>By mode: there when the job is done that way.</summary>
    public required IntervalVar[] Intervals { get; init; }

    /// <summary>By person: at work in it.</summary>
    public required ILiteral[] People { get; init; }

    /// <summary>Where it stays as it is: in minutes, which for begun work need not lie on the grid.</summary>
    public Work? Fixed { get; init; }

    /// <summary>Begun before now: no rule binds it.</summary>
    public bool Begun { get; init; }

    public bool IsCleanDown => Stint is null;
    public Activity? Task => Stint?.Task;
    public bool IsLast => Task is { Last: true };
}
