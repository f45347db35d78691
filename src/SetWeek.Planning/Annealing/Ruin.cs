using SetWeek.Model.Durations;
using SetWeek.Planning.Annealing.Parameters;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Removes related activities from a schedule, so that inserting them again can change it (Schrimpf and others 2000). Stints of
/// one same-night group are removed together. Begun work stays.
/// </summary>
internal sealed partial class Ruin(CompactProblem compact, ActivityInsertion insertion, SplitMix64 random,
    RuinParameters parameters)
{
    private readonly List<int> removed = [];
    private readonly bool[] isRemoved = new bool[compact.Activities.Length];
    private readonly HashSet<int> zoneNights = [];
    private readonly int[] movable = new int[compact.Stints];
    private PartialSchedule current = null!;
    private int targetCount;

    /// <summary>Stints that the last call removed, without final stints.</summary>
    public IReadOnlyList<int> Removed => removed;

    /// <summary>
    /// Removes about <paramref name="target"/> stints by one operator. Final stints, and clean-downs of zones still in use,
    /// mostly stay: they would mostly be inserted again at the same place, which takes time.
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
    /// Makes room for a missing stint: picks one of its possible places at random and removes the stints that compete for it.
    /// </summary>
    /// <param name="schedule">The schedule that lacks the stint.</param>
    /// <param name="missing">Index of the stint.</param>
    /// <param name="withinWindow">
    /// True: a place between the stint's placed predecessors and successors is picked, if such a place exists. False: the
    /// successors are removed first.
    /// </param>
    public void RemoveBlockers(PartialSchedule schedule, int missing, bool withinWindow = false)
    {
        if (!Begin(schedule, 0, out _)) return;
        RemoveFinalStints();
        var activity = compact.Activities[missing];
        var mode = activity.Modes.Length == 0 ? null : activity.Modes[random.NextBelow(activity.Modes.Length)];
        var (night, start) = !withinWindow || mode is null ? (-1, -1) : PickStart(mode, TimeWindow.Of(compact, current, missing));
        if (night < 0)
        {
            foreach (var successor in activity.Successors) RemoveWithSuccessors(successor.Activity);
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

    /// <summary>A possible start in the window, each equally likely (reservoir sampling); (-1, -1) if there is none.</summary>
    private (int Night, int Start) PickStart(CompactMode mode, TimeWindow window)
    {
        var (picked, candidates) = ((-1, -1), 0);
        for (var night = 0; night < compact.Nights; night++)
        {
            var starts = mode.PossibleStarts.AsSpan(night * compact.WordsPerNight, compact.WordsPerNight);
            for (var slot = SlotSet.First(starts); slot >= 0;
                slot = slot + 1 < compact.PaddedSlotCount ? SlotSet.First(starts, slot + 1) : -1)
            {
                var minute = compact.MinuteAt(night, slot);
                if (minute >= window.EarliestStart && minute + mode.DurationMinutes <= window.LatestEnd
                    && random.NextBelow(++candidates) == 0)
                    picked = (night, slot);
            }
        }
        return picked;
    }

    /// <summary>Does the other activity use the zone, a piece of equipment or an eligible person of this one?</summary>
    private bool CompetesWith(CompactMode mode, CompactActivity activity, int other)
    {
        foreach (var person in current.PeopleOf(other)) if ((mode.Eligible & 1UL << person) != 0) return true;
        if (compact.Activities[other].Zone == activity.Zone) return true;
        return compact.Activities[other].Modes[current.Mode[other]].Equipment.Any(otherDemand =>
            mode.Equipment.Any(demand => demand.Equipment == otherDemand.Equipment));
    }

    private void RemoveWithSuccessors(int activity)
    {
        if (!IsMovable(activity)) return;
        RemoveGroup(activity);
        foreach (var successor in compact.Activities[activity].Successors) RemoveWithSuccessors(successor.Activity);
    }

    /// <summary>Starts a ruin and lists the movable stints; false if there are none.</summary>
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

    private bool FinalNightChanged => compact.FinalStints is [var final, ..]
        && current.Night[final] is >= 0 and var night && (current.ChangedNights & 1u << night) != 0;

    private bool IsMovable(int activity) =>
        current.Night[activity] >= 0 && compact.Activities[activity] is { HasBegun: false, IsFinal: false };

    /// <summary>
    /// Removes the clean-downs of zones and nights from which all work was removed. The others stay, or are inserted anew at the
    /// cheapest place if <paramref name="evenIfSoiled"/>.
    /// </summary>
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
