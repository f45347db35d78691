using Google.OrTools.Sat;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>
/// The variables of one piece of work: a stint, or a zone's clean-down on a night. Moments are in the model's units.
/// </summary>
internal sealed class CpActivity
{
    public required int Index { get; init; }

    /// <summary>Null for a clean-down.</summary>
    public required Stint? Stint { get; init; }

    public required int Zone { get; init; }

    /// <summary>Of a clean-down; null for a stint.</summary>
    public required int? Night { get; init; }

    public required IReadOnlyList<ActivityMode> Modes { get; init; }

    /// <summary>By mode: units that it lasts.</summary>
    public required long[] Sizes { get; init; }

    public required ILiteral Present { get; init; }
    public required ILiteral[] InMode { get; init; }
    public required ILiteral[] InNight { get; init; }

    /// <summary>By mode and night: done that way that night.</summary>
    public required ILiteral[,] InModeAndNight { get; init; }

    /// <summary>By mode and night; null where there is no such place.</summary>
    public required CpStartDomain?[,] StartDomains { get; init; }

    public required IntVar Start { get; init; }
    public required LinearExpr Size { get; init; }
    public required LinearExpr End { get; init; }

    /// <summary>By mode: there when the job is done that way.</summary>
    public required IntervalVar[] Intervals { get; init; }

    /// <summary>By person: at work in it.</summary>
    public required ILiteral[] HasPerson { get; init; }

    /// <summary>Where it stays as it is: in minutes, which for begun work need not lie on the grid.</summary>
    public ScheduledWork? FixedWork { get; init; }

    /// <summary>Begun before now: no rule binds it.</summary>
    public bool Begun { get; init; }

    public bool IsCleanDown => Stint is null;
    public IndexedTask? Task => Stint?.Task;
    public bool IsOfFinalTask => Task is { IsLastTask: true };
}
