using Google.OrTools.Sat;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>
/// The variables of one activity: a stint, or a zone's clean-down in a night. Times and lengths are in the model's units.
/// </summary>
internal sealed class CpActivity
{
    /// <summary>Position in <see cref="CpWeekModel.Activities"/>; of a stint also its index in the problem.</summary>
    public required int Index { get; init; }

    /// <summary>Null for a clean-down.</summary>
    public required Stint? Stint { get; init; }

    public required int Zone { get; init; }

    /// <summary>The night of a clean-down; null for a stint.</summary>
    public required int? Night { get; init; }

    public required IReadOnlyList<ActivityMode> Modes { get; init; }

    /// <summary>By mode: length in units.</summary>
    public required long[] Sizes { get; init; }

    /// <summary>The activity is in the plan.</summary>
    public required ILiteral Present { get; init; }

    /// <summary>By mode: done in that mode. False in all modes where it is not present.</summary>
    public required ILiteral[] InMode { get; init; }

    /// <summary>By night: the activity is done in that night. All are false if the activity is not present.</summary>
    public required ILiteral[] InNight { get; init; }

    /// <summary>By mode and night: done in that mode and that night.</summary>
    public required ILiteral[,] InModeAndNight { get; init; }

    /// <summary>By mode and night: possible starts; null where the activity is fixed or may not lie in that night.</summary>
    public required CpStartDomain?[,] StartDomains { get; init; }

    public required IntVar Start { get; init; }
    public required LinearExpr Size { get; init; }
    public required LinearExpr End { get; init; }

    /// <summary>By mode: an interval that is present where the activity is done in that mode.</summary>
    public required IntervalVar[] Intervals { get; init; }

    /// <summary>By person: assigned to this activity.</summary>
    public required ILiteral[] HasPerson { get; init; }

    /// <summary>Work whose time and mode are fixed; null where they are free. In minutes, which may lie off the grid.</summary>
    public ScheduledWork? FixedWork { get; init; }

    /// <summary>Begun before now (re-plan): no rule binds it any more.</summary>
    public bool Begun { get; init; }

    public bool IsCleanDown => Stint is null;
    public IndexedTask? Task => Stint?.Task;
    public bool IsOfFinalTask => Task is { IsLastTask: true };
}
