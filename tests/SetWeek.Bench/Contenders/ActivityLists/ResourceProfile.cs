using System.Numerics;

namespace SetWeek.Bench.Contenders.ActivityLists;

/// <summary>The free equipment and the busy people in each slot of a long night, while a schedule is built.</summary>
internal sealed class ResourceProfile(SingleNightProject project)
{
    private readonly ulong[] free = new ulong[project.Horizon * project.Words];
    private readonly ulong[] busy = new ulong[project.Horizon];
    private readonly ulong[] assigned = new ulong[64];
    private int usedSlots = project.Horizon;

    /// <summary>Frees all resources.</summary>
    public void Clear()
    {
        for (var word = 0; word < project.Words; word++)
            free.AsSpan(word * project.Horizon, usedSlots).Fill(project.Capacity[word] | SingleNightProject.BorrowGuards);
        busy.AsSpan(0, usedSlots).Clear();
        usedSlots = 0;
    }

    /// <summary>
    /// The first slot at or after <paramref name="from"/> at which a mode fits. Its people are then in
    /// <see cref="AssignedPeople"/>.
    /// </summary>
    public int Find(SingleNightProject.ProjectMode mode, int from)
    {
        for (var start = from; ; start++)
        {
            for (var slot = start; slot < start + mode.DurationSlots;)
                if (!Fits(mode, slot++)) start = slot;
            if (mode.Requirements.Length == 0 || TryAssignAll(mode, start)) return start;
        }
    }

    /// <summary>For each requirement of the mode found last, a person as a bit.</summary>
    public ReadOnlySpan<ulong> AssignedPeople(SingleNightProject.ProjectMode mode) =>
        assigned.AsSpan(0, mode.Requirements.Length);

    public void Reserve(SingleNightProject.ProjectMode mode, int start, ReadOnlySpan<ulong> people)
    {
        var end = start + mode.DurationSlots;
        for (var word = 0; word < mode.EquipmentNeeds.Length; word++)
            if (mode.EquipmentNeeds[word] != 0)
                for (var slot = start; slot < end; slot++) free[word * project.Horizon + slot] -= mode.EquipmentNeeds[word];
        var all = 0UL;
        foreach (var person in people) all |= person;
        if (all != 0)
            for (var slot = start; slot < end; slot++) busy[slot] |= all;
        usedSlots = Math.Max(usedSlots, end);
    }

    private bool Fits(SingleNightProject.ProjectMode mode, int slot)
    {
        for (var word = 0; word < mode.EquipmentNeeds.Length; word++)
            if ((free[word * project.Horizon + slot] - mode.EquipmentNeeds[word] & SingleNightProject.BorrowGuards)
                != SingleNightProject.BorrowGuards) return false;
        return mode.Requirements.Length == 0 || BitOperations.PopCount(mode.Eligible & ~busy[slot]) >= mode.Requirements.Length;
    }

    /// <summary>Assigns people who are free for the whole duration to all requirements of the mode.</summary>
    private bool TryAssignAll(SingleNightProject.ProjectMode mode, int start)
    {
        var taken = 0UL;
        for (var slot = start; slot < start + mode.DurationSlots; slot++) taken |= busy[slot];
        var eligible = mode.Eligible & ~taken;
        if (BitOperations.PopCount(eligible) < mode.Requirements.Length) return false;
        var filled = 0;
        while (filled < mode.Requirements.Length && TryAssign(mode, filled, filled, eligible, ref taken, 0)) filled++;
        return filled == mode.Requirements.Length;
    }

    /// <summary>
    /// An augmenting path (Kuhn): takes the lowest free bit, or else an assigned person whose requirement somebody else can fill.
    /// </summary>
    private bool TryAssign(SingleNightProject.ProjectMode mode, int requirement, int assignedCount, ulong eligible,
        ref ulong taken, ulong visited)
    {
        var open = mode.Requirements[requirement] & eligible & ~taken;
        if (open != 0)
        {
            assigned[requirement] = open & ~(open - 1);
            taken |= assigned[requirement];
            return true;
        }
        for (var other = 0; other < assignedCount; other++)
        {
            var person = assigned[other];
            if ((mode.Requirements[requirement] & person) == 0 || (visited & 1UL << other) != 0) continue;
            visited |= 1UL << other;
            if (!TryAssign(mode, other, assignedCount, eligible, ref taken, visited)) continue;
            assigned[requirement] = person;
            return true;
        }
        return false;
    }
}
