using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Takes some jobs out of a plan that have to do with each other, so that putting them back can change something.
/// </summary>
internal sealed partial class Ruin(CompactProblem compact, ActivityInsertion insertion, SplitMix64 random, RuinParameters parameters)
{
    private readonly List<int> removed = [];
    private readonly bool[] isRemoved = new bool[compact.Activities.Length];
    private readonly HashSet<int> zoneNights = [];
    private readonly int[] movable = new int[compact.Stints];
    private PartialSchedule current = null!;
    private int targetCount;

    /// <summary>Stints taken out by the last <see cref="Remove"/>.</summary>
    public IReadOnlyList<int> Removed => removed;

    /// <summary>
    /// Takes about so many stints out. The final task stays where it can, and a clean-down where its zone stays dirty: both are
    /// mostly put back where they were, at some cost.
    /// </summary>
    public void Remove(PartialSchedule schedule, int target)
    {
        if (!Begin(schedule, target, out var count)) return;
        if (random.NextBoolean(parameters.FinalStints)) RemoveFinalStints();
        RemoveRelated(movable.AsSpan(0, count));
        if (FinalNightChanged) RemoveFinalStints();
        UpdateCleanDowns(random.NextBoolean(parameters.CleanDowns));
    }

    /// <summary>
    /// Makes room for a stint that has found none: what is in its way at some place where it could be otherwise.
    /// </summary>
    /// <param name="schedule">What it has found no room in.</param>
    /// <param name="missing">The stint.</param>
    /// <param name="withinWindow">Room is made between what comes before it and what comes after it, where there is any.</param>
    public void RemoveBlockers(PartialSchedule schedule, int missing, bool withinWindow = false)
    {
        if (!Begin(schedule, 0, out _)) return;
        RemoveFinalStints();
        var activity = compact.Activities[missing];
        var mode = activity.Modes.Length == 0 ? null : activity.Modes[random.NextBelow(activity.Modes.Length)];
        var (night, start) = !withinWindow || mode is null ? (-1, -1) : PickStart(mode, TimeWindow.Of(compact, current, missing));
        if (night < 0)
        {
            foreach (var precedence in activity.Successors) RemoveWithSuccessors(precedence.Activity);
            if (mode is not null) (night, start) = PickStart(mode, TimeWindow.Of(compact, current, missing));
        }
        if (mode is null || night < 0)
        {
            UpdateCleanDowns(evenIfSoiled: true);
            return;
        }
        var slack = random.NextBelow(parameters.Slack);
        for (var other = 0; other < compact.Stints; other++)
        {
            if (current.Night[other] != night || compact.Activities[other].HasBegun || current.EndSlot[other] <= start - slack
                || current.StartSlot[other] >= start + mode.DurationSlots + slack)
                continue;
            if (random.NextBoolean(parameters.Blocker) && CompetesWith(mode, activity, other)) RemoveGroup(other);
        }
        UpdateCleanDowns(evenIfSoiled: true);
    }

    private (int Night, int Start) PickStart(CompactMode mode, TimeWindow window)
    {
        var (picked, seen) = ((-1, -1), 0);
        for (var night = 0; night < compact.Nights; night++)
        {
            var starts = mode.PossibleStarts.AsSpan(night * compact.WordsPerNight, compact.WordsPerNight);
            for (var slot = SlotSet.First(starts); slot >= 0; slot = slot + 1 < compact.PaddedSlotCount ? SlotSet.First(starts, slot + 1) : -1)
            {
                var minute = compact.MinuteAt(night, slot);
                if (minute >= window.EarliestStart && minute + mode.DurationMinutes <= window.LatestEnd
                    && random.NextBelow(++seen) == 0)
                    picked = (night, slot);
            }
        }
        return picked;
    }

    private bool CompetesWith(CompactMode mode, CompactActivity activity, int other)
    {
        foreach (var person in current.PeopleOf(other)) if ((mode.Eligible & 1UL << person) != 0) return true;
        if (compact.Activities[other].Zone == activity.Zone) return true;
        return compact.Activities[other].Modes[current.Mode[other]].Equipment.Any(piece =>
            mode.Equipment.Any(own => own.Equipment == piece.Equipment));
    }

    private void RemoveWithSuccessors(int activity)
    {
        if (!IsMovable(activity)) return;
        RemoveGroup(activity);
        foreach (var precedence in compact.Activities[activity].Successors) RemoveWithSuccessors(precedence.Activity);
    }

    private bool Begin(PartialSchedule schedule, int target, out int count)
    {
        (current, targetCount) = (schedule, target);
        removed.Clear();
        zoneNights.Clear();
        Array.Clear(isRemoved);
        Array.Clear(insertion.ExcludedPeople);
        count = 0;
        for (var activity = 0; activity < compact.Stints; activity++)
            if (IsMovable(activity)) movable[count++] = activity;
        return count > 0;
    }

    private void RemoveFinalStints()
    {
        foreach (var final in compact.FinalStints) if (current.Night[final] >= 0) current.Remove(final);
    }

    private bool FinalNightChanged =>
        compact.FinalStints is [var final, ..] && current.Night[final] is >= 0 and var night && (current.ChangedNights & 1u << night) != 0;

    private bool IsMovable(int activity) => current.Night[activity] >= 0 && compact.Activities[activity] is { HasBegun: false, IsFinal: false };

    /// <summary>Those of zones that are clean now go; others are put back where they fit best, or left as they are.</summary>
    private void UpdateCleanDowns(bool evenIfSoiled)
    {
        foreach (var zoneNight in zoneNights)
        {
            var (zone, night) = (zoneNight / compact.Nights, zoneNight % compact.Nights);
            var cleanDown = compact.CleanDownIndex(zone, night);
            if (current.Night[cleanDown] < 0 || compact.Activities[cleanDown].HasBegun) continue;
            if (!evenIfSoiled && current.CleanDownDemand[zoneNight] > 0) continue;
            current.Remove(cleanDown);
            insertion.UpdateCleanDown(current, zone, night);
        }
    }

    private void RemoveGroup(int activity)
    {
        foreach (var member in compact.Activities[activity].SameNightGroup)
        {
            if (isRemoved[member] || current.Night[member] < 0) continue;
            isRemoved[member] = true;
            removed.Add(member);
            zoneNights.Add(compact.Activities[member].Zone * compact.Nights + current.Night[member]);
            current.Remove(member);
        }
    }
}
