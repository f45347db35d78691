using SetWeek.Model.Time;

namespace SetWeek.Model.Problems;

/// <summary>
/// A plan in the terms of its <see cref="Problem"/>: indexes and minutes. Says nothing of whether it keeps the rules.
/// </summary>
public sealed record Schedule
{
    public required IReadOnlyList<ScheduledShift> Shifts { get; init; }

    /// <summary>Stints and clean-downs, in no order.</summary>
    public required IReadOnlyList<ScheduledWork> Work { get; init; }

    /// <summary>By night: the keyholder named, or null.</summary>
    public required IReadOnlyList<int?> Keyholders { get; init; }

    /// <summary>By stint index: its work, or null where it is not planned.</summary>
    public ScheduledWork?[] WorkByStint(Problem problem)
    {
        var byStint = new ScheduledWork?[problem.Stints.Count];
        foreach (var work in Work)
            if (work.Stint is { } stint) byStint[stint] ??= work;
        return byStint;
    }

    /// <summary>The first shift of each person and night that has one.</summary>
    public Dictionary<(int Person, int Night), ScheduledShift> ShiftsByPersonNight() =>
        Shifts.DistinctBy(shift => (shift.Person, shift.Night)).ToDictionary(shift => (shift.Person, shift.Night));

    /// <summary>
    /// By display: is it built? It is where work of it is planned; one without tasks needs no work, so it is, and an
    /// alternate without tasks is where its display is not.
    /// </summary>
    public bool[] PlacedDisplays(Problem problem)
    {
        var placed = new bool[problem.Displays.Count];
        foreach (var work in Work)
            if (work.Stint is { } stint) placed[problem.Stints[stint].Task.Display] = true;
        foreach (var display in problem.Displays.Where(display => display.Tasks.Count == 0))
            placed[display.Index] = display.AlternateOf is not { } original
                || (problem.Displays[original].Tasks.Count > 0 && !placed[original]);
        return placed;
    }
}

/// <summary>Break null: none.</summary>
public sealed record ScheduledShift(int Person, int Night, int From, int To, Span? Break)
{
    public Span Span => new(From, To);

    /// <summary>Breaks are unpaid.</summary>
    public int PaidMinutes => To - From - (Break?.Minutes ?? 0);
}

/// <summary>A stint (Stint is its index, Mode the index of its way) or, where Stint is null, the clean-down of Zone.</summary>
public sealed record ScheduledWork(int Night, int? Stint, int Mode, int Zone, int From, int To, IReadOnlyList<Assignment> Assignments)
{
    public Span Span => new(From, To);
    public bool IsCleanDown => Stint is null;
}

/// <summary>Somebody at work, and the skill that they are there for.</summary>
public readonly record struct Assignment(int Person, int Skill);
