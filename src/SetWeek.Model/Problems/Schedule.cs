using SetWeek.Model.Time;

namespace SetWeek.Model.Problems;

/// <summary>
/// A plan in the indexes and minutes of its <see cref="Problem"/>. It may break rules.
/// </summary>
public sealed record Schedule
{
    /// <summary>The shifts, in no particular order.</summary>
    public required IReadOnlyList<ScheduledShift> Shifts { get; init; }

    /// <summary>Stints and clean-downs, in no particular order.</summary>
    public required IReadOnlyList<ScheduledWork> Work { get; init; }

    /// <summary>By night: index of the keyholder, or null if none is named.</summary>
    public required IReadOnlyList<int?> Keyholders { get; init; }

    /// <summary>By stint index: its work, or null if it is not planned. A stint planned twice gives the first.</summary>
    public ScheduledWork?[] WorkByStint(Problem problem)
    {
        var byStint = new ScheduledWork?[problem.Stints.Count];
        foreach (var work in Work)
            if (work.Stint is { } stint) byStint[stint] ??= work;
        return byStint;
    }

    /// <summary>The work of each person.</summary>
    public ILookup<int, ScheduledWork> WorkByPerson() =>
        Work.SelectMany(work => work.Assignments, (work, assignment) => (Work: work, assignment.Person))
            .ToLookup(part => part.Person, part => part.Work);

    /// <summary>The shift of each person in each night. A person with two shifts in a night gives the first.</summary>
    public Dictionary<(int Person, int Night), ScheduledShift> ShiftsByPersonNight() =>
        Shifts.DistinctBy(shift => (shift.Person, shift.Night)).ToDictionary(shift => (shift.Person, shift.Night));

    /// <summary>By display index: true if the display is built.</summary>
    /// <remarks>
    /// A display is built if some of its work is planned. One without tasks needs no work, so it counts as built; an
    /// alternate without tasks counts as built exactly if its display has tasks and is not built.
    /// </remarks>
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

/// <summary>A shift of one person in one night.</summary>
/// <param name="Person">Index of the person.</param>
/// <param name="Night">Index of the night.</param>
/// <param name="From">First minute.</param>
/// <param name="To">End in minutes, not included.</param>
/// <param name="Break">The break within the shift; null means none.</param>
public sealed record ScheduledShift(int Person, int Night, int From, int To, Span? Break)
{
    /// <summary>The shift from start to end, break included.</summary>
    public Span Span => new(From, To);

    /// <summary>Minutes that are paid: the shift without its break.</summary>
    public int PaidMinutes => To - From - (Break?.Minutes ?? 0);
}

/// <summary>A stint or a clean-down with its place and time.</summary>
/// <param name="Night">Index of the night.</param>
/// <param name="Stint">Index of the stint; null for the clean-down of the zone.</param>
/// <param name="Mode">Index of the mode in the task; 0 for a clean-down.</param>
/// <param name="Zone">Index of the zone.</param>
/// <param name="From">First minute.</param>
/// <param name="To">End in minutes, not included.</param>
/// <param name="Assignments">The people at work; empty if the mode needs nobody.</param>
public sealed record ScheduledWork(
    int Night, int? Stint, int Mode, int Zone, int From, int To, IReadOnlyList<Assignment> Assignments)
{
    /// <summary>The time from start to end.</summary>
    public Span Span => new(From, To);

    /// <summary>True for a clean-down, false for a stint.</summary>
    public bool IsCleanDown => Stint is null;
}

/// <summary>A person at work, with the skill requirement that the person fills.</summary>
/// <param name="Person">Index of the person.</param>
/// <param name="Skill">Index of the skill; -1 for a skill that the week does not have.</param>
public readonly record struct Assignment(int Person, int Skill);
