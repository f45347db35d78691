using System.Numerics;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>
/// Where a job fits into a night as the draft stands: room, equipment, shut zones, and enough people free at once.
/// </summary>
internal sealed class Gaps(Image image)
{
    private readonly ulong[] starts = new ulong[image.Words];
    private readonly ulong[] blocked = new ulong[image.Words];
    private readonly ulong[] edges = new ulong[image.Words];
    private readonly ulong[] byPerson = new ulong[image.People * image.Words];
    private readonly ulong[] byCount = new ulong[(image.MostHands + 1) * image.Words];

    /// <summary>Slots at which the job may start; filled by <see cref="Find"/>.</summary>
    public ReadOnlySpan<ulong> Starts => starts;

    /// <summary>Are there any, between a minute and one by which it has ended?</summary>
    public bool Find(Draft draft, Job job, Manner manner, int night, Window window, ReadOnlySpan<ulong> kept)
    {
        manner.Starts.AsSpan(night * image.Words, image.Words).CopyTo(starts);
        var latest = Math.Min(image.SlotAtOrBefore(night, window.Latest), image.SlotCounts[night] - job.Tail) - manner.Slots;
        var earliest = image.SlotAtOrAfter(night, window.Earliest);
        if (latest < earliest) return false;
        Slots.Clip(starts, earliest, latest + 1);
        if (Empty()) return false;
        Array.Clear(blocked);
        var most = image.Problem.Zones[job.Zone].MaxPeople;
        if (manner.Seats.Length > 0
            && most < Problem.Never)
            Slots.AddAbove(draft.PeopleRow(job.Zone, night), most - manner.Seats.Length, blocked);
        if (draft.ShutRow(job.Zone, night) is { Length: > 0 } shut) Slots.AddAbove(shut, 0, blocked);
        for (var piece = 0; piece < manner.Equipment.Count; piece++)
            Slots.AddAbove(draft.EquipmentRow(manner.Equipment[piece].Equipment, night),
                image.Problem.EquipmentCounts[manner.Equipment[piece].Equipment] - manner.Equipment[piece].Count, blocked);
        Slots.Smear(blocked, manner.Slots);
        for (var word = 0; word < starts.Length; word++) starts[word] &= ~blocked[word];
        return !Empty() && (manner.Seats.Length == 0 || Manned(draft, manner, night, kept[night]))
            && (job.Shuts == 0 || Unshut(draft, job, manner, night));
    }

    /// <summary>Who of a manner's people is free for it from a slot on, a bit each.</summary>
    public ulong FreeAt(Manner manner, int slot)
    {
        var free = 0UL;
        for (var left = manner.Eligible; left != 0; left &= left - 1)
        {
            var person = BitOperations.TrailingZeroCount(left);
            if (Slots.Has(byPerson.AsSpan(person * image.Words, image.Words), slot)) free |= 1UL << person;
        }
        return free;
    }

    /// <summary>
    /// Keeps the starts at which something begins or ends to fit: the ones between are never cheaper than both.
    /// </summary>
    /// <param name="manner">The way that <see cref="Find"/> was asked for.</param>
    /// <param name="wished">A start that is kept too, where it fits; -1: none.</param>
    public void KeepEdges(Manner manner, int wished)
    {
        Array.Clear(edges);
        if (wished >= 0) Slots.Add(edges, wished, wished + 1);
        Slots.AddEdges(starts, edges);
        for (var left = manner.Eligible; left != 0; left &= left - 1)
            Slots.AddEdges(byPerson.AsSpan(BitOperations.TrailingZeroCount(left) * image.Words, image.Words), edges);
        for (var word = 0; word < starts.Length; word++) starts[word] &= edges[word];
    }

    private bool Manned(Draft draft, Manner manner, int night, ulong kept)
    {
        Array.Clear(byCount);
        var words = image.Words;
        for (var left = manner.Eligible; left != 0; left &= left - 1)
        {
            var person = BitOperations.TrailingZeroCount(left);
            var free = byPerson.AsSpan(person * words, words);
            free.Clear();
            if ((kept & 1UL << person) != 0) continue;
            var present = image.Shifts.Present.AsSpan(image.Row(person, night), words);
            var busy = draft.BusyRow(person, night);
            for (var word = 0; word < words; word++) free[word] = ~present[word] | busy[word];
            Slots.Smear(free, manner.Slots);
            for (var word = 0; word < words; word++)
            {
                free[word] = starts[word] & ~free[word];
                for (var count = manner.Seats.Length; count > 1; count--)
                    byCount[count * words + word] |= byCount[(count - 1) * words + word] & free[word];
                byCount[words + word] |= free[word];
            }
        }
        byCount.AsSpan(manner.Seats.Length * words, words).CopyTo(starts);
        for (var left = manner.Eligible; left != 0; left &= left - 1)
        {
            var free = byPerson.AsSpan(BitOperations.TrailingZeroCount(left) * words, words);
            for (var word = 0; word < words; word++) free[word] &= starts[word];
        }
        return !Empty();
    }

    /// <summary>
    /// Work that shuts its zone starts only where nothing but the night's clean-down, which can wait, follows in that time.
    /// </summary>
    private bool Unshut(Draft draft, Job job, Manner manner, int night)
    {
        for (var slot = Slots.First(starts); slot >= 0; slot = slot + 1 < image.Width ? Slots.First(starts, slot + 1) : -1)
        {
            var (from, to) = (image.Minute(night, slot) + manner.Minutes, image.Minute(night, slot) + manner.Minutes + job.Shuts);
            foreach (var other in image.InZone[job.Zone])
                if (other != job.Index && draft.Night[other] >= 0 && draft.From[other] < to
                    && draft.To[other] > from)
                    Slots.Remove(starts, slot, slot + 1);
            for (var later = night + 1; later < image.Nights && image.Opens[later] < to; later++)
                if (draft.Night[image.CleanDown(job.Zone, later)] >= 0
                    && draft.From[image.CleanDown(job.Zone, later)] < to)
                    Slots.Remove(starts, slot, slot + 1);
        }
        return !Empty();
    }

    private bool Empty()
    {
        foreach (var word in starts) if (word != 0) return false;
        return true;
    }
}
