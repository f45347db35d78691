using System.Numerics;

namespace SetWeek.Bench.Contenders.ActivityLists;

/// <summary>What is free slot by slot of a long night while work is put into it, and who is busy.</summary>
internal sealed class Timeline(LongNight night)
{
    private readonly ulong[] free = new ulong[night.Horizon * night.Words];
    private readonly ulong[] busy = new ulong[night.Horizon];
    private readonly ulong[] seated = new ulong[64];
    private int used = night.Horizon;

    /// <summary>Everything is free again.</summary>
    public void Clear()
    {
        for (var word = 0; word < night.Words; word++)
            free.AsSpan(word * night.Horizon, used).Fill(night.Capacity[word] | LongNight.Guards);
        busy.AsSpan(0, used).Clear();
        used = 0;
    }

    /// <summary>
    /// First slot, at or after one, at which a way of doing something fits; its people are in <see cref="Seated"/> then.
    /// </summary>
    public int Find(LongNight.Doing way, int from)
    {
        for (var start = from; ; start++)
        {
            for (var slot = start; slot < start + way.Slots;)
                if (!Fits(way, slot++)) start = slot;
            if (way.Seats.Length == 0 || Seat(way, start)) return start;
        }
    }

    /// <summary>By seat of the way last found: a person, as a bit.</summary>
    public ReadOnlySpan<ulong> Seated(LongNight.Doing way) => seated.AsSpan(0, way.Seats.Length);

    public void Take(LongNight.Doing way, int start, ReadOnlySpan<ulong> people)
    {
        var end = start + way.Slots;
        for (var word = 0; word < way.Needs.Length; word++)
            if (way.Needs[word] != 0)
                for (var slot = start; slot < end; slot++) free[word * night.Horizon + slot] -= way.Needs[word];
        var all = 0UL;
        foreach (var person in people) all |= person;
        if (all != 0)
            for (var slot = start; slot < end; slot++) busy[slot] |= all;
        used = Math.Max(used, end);
    }

    private bool Fits(LongNight.Doing way, int slot)
    {
        for (var word = 0; word < way.Needs.Length; word++)
            if ((free[word * night.Horizon + slot] - way.Needs[word] & LongNight.Guards) != LongNight.Guards) return false;
        return way.Seats.Length == 0 || BitOperations.PopCount(way.Able & ~busy[slot]) >= way.Seats.Length;
    }

    /// <summary>Finds people for every seat who are free throughout.</summary>
    private bool Seat(LongNight.Doing way, int start)
    {
        var taken = 0UL;
        for (var slot = start; slot < start + way.Slots; slot++) taken |= busy[slot];
        var asked = way.Able & ~taken;
        if (BitOperations.PopCount(asked) < way.Seats.Length) return false;
        var filled = 0;
        while (filled < way.Seats.Length && Fill(way, filled, filled, asked, ref taken, 0)) filled++;
        return filled == way.Seats.Length;
    }

    /// <summary>
    /// Kuhn's augmenting path: the lowest bit that is free, else somebody seated already whose seat another can have.
    /// </summary>
    private bool Fill(LongNight.Doing way, int seat, int filled, ulong asked, ref ulong taken, ulong tried)
    {
        var open = way.Seats[seat] & asked & ~taken;
        if (open != 0)
        {
            seated[seat] = open & ~(open - 1);
            taken |= seated[seat];
            return true;
        }
        for (var other = 0; other < filled; other++)
        {
            var person = seated[other];
            if ((way.Seats[seat] & person) == 0 || (tried & 1UL << other) != 0) continue;
            tried |= 1UL << other;
            if (!Fill(way, other, filled, asked, ref taken, tried)) continue;
            seated[seat] = person;
            return true;
        }
        return false;
    }
}
