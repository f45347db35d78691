using SetWeek.Model.Problems;

namespace SetWeek.Bench.Contenders.ActivityLists;

/// <summary>
/// The serial scheme on a long night, from its beginning or, mirrored, from its end: each job in turn to the first place at
/// which it fits. Afterwards the order is that in which the other direction takes the jobs, what ended last first.
/// </summary>
internal sealed class SerialScheduleGeneration
{
    private readonly SingleNightProject project;
    private readonly ResourceProfile profile;
    private readonly int[] start, end, mode;
    private readonly ulong[][] people;
    private readonly Comparison<int> lastEndFirst;

    public SerialScheduleGeneration(SingleNightProject project)
    {
        this.project = project;
        profile = new ResourceProfile(project);
        (start, end, mode) = (new int[project.Count], new int[project.Count], new int[project.Count]);
        people = [.. project.Modes.Select(ways => new ulong[ways.Max(way => way.Requirements.Length)])];
        lastEndFirst = (one, other) => end[one] != end[other] ? end[other] - end[one]
            : start[one] != start[other] ? start[other] - start[one] : one - other;
    }

    /// <summary>Slots until all is done.</summary>
    public int Finish { get; private set; }

    /// <summary>What the last pass built; only one from the beginning is a plan.</summary>
    public Schedule Schedule() => project.ScheduleOf(start, mode, people);

    /// <param name="order">All jobs: no job before one that it waits for or, from the end, that waits for it.</param>
    /// <param name="backward">From the end; kits are not minded then.</param>
    public void Run(int[] order, bool backward)
    {
        profile.Clear();
        Finish = 0;
        foreach (var activity in order)
        {
            var from = backward ? 0 : project.EarliestStarts[activity];
            foreach (var precedence in (backward ? project.Successors : project.Predecessors)[activity]) from = Math.Max(from, end[precedence.Activity] + precedence.Lag);
            Place(activity, from);
            Finish = Math.Max(Finish, end[activity]);
        }
        order.AsSpan().Sort(lastEndFirst);
    }

    /// <summary>In the way that is done first.</summary>
    private void Place(int activity, int from)
    {
        end[activity] = int.MaxValue;
        for (var index = 0; index < project.Modes[activity].Length; index++)
        {
            var doing = project.Modes[activity][index];
            var at = profile.Find(doing, from);
            if (at + doing.DurationSlots >= end[activity]) continue;
            (mode[activity], start[activity], end[activity]) = (index, at, at + doing.DurationSlots);
            profile.AssignedPeople(doing).CopyTo(people[activity]);
        }
        var taken = project.Modes[activity][mode[activity]];
        profile.Reserve(taken, start[activity], people[activity].AsSpan(0, taken.Requirements.Length));
    }
}
