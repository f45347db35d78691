using SetWeek.Model.Problems;

namespace SetWeek.Bench.Contenders.ActivityLists;

/// <summary>
/// The serial schedule-generation scheme on one long night, forward from its opening or backward from its end: each activity in
/// turn gets its first feasible start. Afterwards the list is sorted for the other direction, by decreasing end.
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
        people = [.. project.Modes.Select(modes => new ulong[modes.Max(choice => choice.Requirements.Length)])];
        lastEndFirst = (first, second) => end[first] != end[second] ? end[second] - end[first]
            : start[first] != start[second] ? start[second] - start[first] : first - second;
    }

    /// <summary>The makespan in slots.</summary>
    public int Finish { get; private set; }

    /// <summary>The schedule of the last pass. Only a forward pass gives a valid plan.</summary>
    public Schedule Schedule() => project.ScheduleOf(start, mode, people);

    /// <param name="order">All activities in an order that respects the precedences of the direction.</param>
    /// <param name="backward">Whether to schedule from the end. A backward pass ignores kits.</param>
    public void Run(int[] order, bool backward)
    {
        profile.Clear();
        Finish = 0;
        foreach (var activity in order)
        {
            var from = backward ? 0 : project.EarliestStarts[activity];
            foreach (var precedence in (backward ? project.Successors : project.Predecessors)[activity])
                from = Math.Max(from, end[precedence.Activity] + precedence.Lag);
            Place(activity, from);
            Finish = Math.Max(Finish, end[activity]);
        }
        order.AsSpan().Sort(lastEndFirst);
    }

    /// <summary>Schedules the activity in the mode that ends first.</summary>
    private void Place(int activity, int from)
    {
        end[activity] = int.MaxValue;
        for (var index = 0; index < project.Modes[activity].Length; index++)
        {
            var candidate = project.Modes[activity][index];
            var slot = profile.Find(candidate, from);
            if (slot + candidate.DurationSlots >= end[activity]) continue;
            (mode[activity], start[activity], end[activity]) = (index, slot, slot + candidate.DurationSlots);
            profile.AssignedPeople(candidate).CopyTo(people[activity]);
        }
        var chosen = project.Modes[activity][mode[activity]];
        profile.Reserve(chosen, start[activity], people[activity].AsSpan(0, chosen.Requirements.Length));
    }
}
