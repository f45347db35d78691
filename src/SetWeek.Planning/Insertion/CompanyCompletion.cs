using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>
/// Gives company to stints that were inserted, or left by a ruin, without enough people at work in their zone. Such a stint
/// moves beside other work of its zone, or other work of the zone moves beside it. If neither is possible, it is removed.
/// </summary>
internal sealed class CompanyCompletion(CompactProblem compact, ActivityInsertion insertion)
{
    /// <summary>Stints of the zone that are tried as company of one stint, and rounds over all stints without company.</summary>
    private const int MaxCompanions = 6, MaxRounds = 3;

    private readonly PartialSchedule saved = new(compact);
    private readonly List<int> moved = [];

    /// <summary>Completes the company of all stints; true if none had to be removed.</summary>
    public bool Complete(PartialSchedule schedule)
    {
        var isComplete = true;
        for (var round = 0; round <= MaxRounds; round++)
        {
            var lacking = 0;
            foreach (var stint in compact.StintsWithCompany)
            {
                if (FirstSlotAlone(schedule, stint) < 0) continue;
                lacking++;
                if (round < MaxRounds && (TryMove(schedule, stint) || TryBring(schedule, stint))) continue;
                Remove(schedule, stint);
                isComplete = false;
            }
            // What was moved or removed may have been the company of others.
            if (lacking == 0) break;
        }
        return isComplete;
    }

    /// <summary>True if some stint lacks company.</summary>
    public bool IsLacking(PartialSchedule schedule)
    {
        foreach (var stint in compact.StintsWithCompany) if (FirstSlotAlone(schedule, stint) >= 0) return true;
        return false;
    }

    /// <summary>First slot of a placed stint at which too few people are at work in its zone; -1 if there is none.</summary>
    private int FirstSlotAlone(PartialSchedule schedule, int stint)
    {
        if (schedule.Night[stint] < 0) return -1;
        var activity = compact.Activities[stint];
        var people = schedule.ZonePeopleRow(activity.Zone, schedule.Night[stint]);
        for (var slot = schedule.StartSlot[stint]; slot < schedule.EndSlot[stint]; slot++)
            if (people[slot] < activity.Company) return slot;
        return -1;
    }

    /// <summary>Slots in which stints of the zone lack company, over the week.</summary>
    private int SlotsAlone(PartialSchedule schedule, int zone)
    {
        var count = 0;
        foreach (var stint in compact.StintsWithCompany)
        {
            var activity = compact.Activities[stint];
            if (activity.Zone != zone || schedule.Night[stint] < 0) continue;
            var people = schedule.ZonePeopleRow(zone, schedule.Night[stint]);
            for (var slot = schedule.StartSlot[stint]; slot < schedule.EndSlot[stint]; slot++)
                if (people[slot] < activity.Company) count++;
        }
        return count;
    }

    /// <summary>Moves the stint to a place with company.</summary>
    private bool TryMove(PartialSchedule schedule, int stint)
    {
        insertion.OnlyWithCompany = true;
        var isMoved = TryReinsert(schedule, stint, -1, -1);
        insertion.OnlyWithCompany = false;
        return isMoved;
    }

    /// <summary>Moves other work of the zone so that it covers the time in which the stint is alone.</summary>
    private bool TryBring(PartialSchedule schedule, int stint)
    {
        var (zone, night) = (compact.Activities[stint].Zone, schedule.Night[stint]);
        var tried = 0;
        foreach (var other in compact.StintsByZone[zone])
        {
            var activity = compact.Activities[other];
            if (schedule.Night[other] < 0 || activity.HasBegun || activity.Task == compact.Activities[stint].Task
                || schedule.AssignedCount[other] == 0 || activity.SameNightGroup.Length > 1 && schedule.Night[other] != night)
                continue;
            if (tried++ == MaxCompanions) return false;
            while (FirstSlotAlone(schedule, stint) is >= 0 and var slot)
                if (!TryReinsert(schedule, other, night, slot)) break;
            if (FirstSlotAlone(schedule, stint) < 0) return true;
        }
        return false;
    }

    /// <summary>
    /// Takes out a stint with the placed stints that follow it and inserts them again. Keeps the result only if less time without
    /// company remains in the zone.
    /// </summary>
    /// <param name="schedule">The partial schedule.</param>
    /// <param name="stint">The stint.</param>
    /// <param name="night">Its night; -1: any, or the present one of its same-night group.</param>
    /// <param name="coveredSlot">A slot that it has to cover; -1: none.</param>
    private bool TryReinsert(PartialSchedule schedule, int stint, int night, int coveredSlot)
    {
        var activity = compact.Activities[stint];
        var before = SlotsAlone(schedule, activity.Zone);
        saved.CopyFrom(schedule);
        if (activity.SameNightGroup.Length > 1) night = schedule.Night[stint];
        moved.Clear();
        TakeOut(schedule, stint);
        insertion.CoveredSlot = coveredSlot;
        var isInserted = insertion.Insert(schedule, stint, night);
        insertion.CoveredSlot = -1;
        moved.Sort((first, second) =>
            compact.Activities[first].TopologicalRank - compact.Activities[second].TopologicalRank);
        foreach (var other in moved)
        {
            if (!isInserted) break;
            if (other != stint && schedule.Night[other] < 0)
                isInserted = insertion.Insert(schedule, other,
                    compact.Activities[other].SameNightGroup.Length > 1 ? saved.Night[other] : -1);
        }
        if (isInserted && SlotsAlone(schedule, activity.Zone) < before) return true;
        schedule.CopyFrom(saved);
        return false;
    }

    private void TakeOut(PartialSchedule schedule, int stint)
    {
        schedule.Remove(stint);
        moved.Add(stint);
        foreach (var successor in compact.Activities[stint].Successors)
            if (schedule.Night[successor.Activity] >= 0 && !compact.Activities[successor.Activity].HasBegun)
                TakeOut(schedule, successor.Activity);
    }

    private void Remove(PartialSchedule schedule, int stint)
    {
        var night = schedule.Night[stint];
        schedule.Remove(stint);
        if (compact.Activities[stint].NeedsCleanDown) insertion.UpdateCleanDown(schedule, compact.Activities[stint].Zone, night);
    }
}
