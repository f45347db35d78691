using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace SetWeek.Planning.Compact;

/// <summary>Sets of a night's slots as rows of words: slot 0 is the lowest bit of the first word.</summary>
internal static class SlotSet
{
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool Contains(ReadOnlySpan<ulong> set, int slot) => (set[slot >> 6] >> (slot & 63) & 1) != 0;

    /// <summary>Adds the slots of [from, to).</summary>
    public static void Add(Span<ulong> set, int from, int to)
    {
        for (var word = from >> 6; word << 6 < to; word++) set[word] |= Mask(word, from, to);
    }

    /// <summary>Removes the slots of [from, to).</summary>
    public static void Remove(Span<ulong> set, int from, int to)
    {
        for (var word = from >> 6; word << 6 < to; word++) set[word] &= ~Mask(word, from, to);
    }

    /// <summary>Is any slot of [from, to) in the set?</summary>
    public static bool ContainsAny(ReadOnlySpan<ulong> set, int from, int to)
    {
        for (var word = from >> 6; word << 6 < to; word++)
            if ((set[word] & Mask(word, from, to)) != 0) return true;
        return false;
    }

    /// <summary>Intersects the set with [from, to).</summary>
    public static void KeepBetween(Span<ulong> set, int from, int to)
    {
        for (var word = 0; word < set.Length; word++) set[word] &= to > from ? Mask(word, from, to) : 0;
    }

    /// <summary>First slot of the set at or after a slot; -1 if there is none.</summary>
    public static int First(ReadOnlySpan<ulong> set, int at = 0)
    {
        for (var word = at >> 6; word < set.Length; word++)
        {
            var rest = word == at >> 6 ? set[word] & ulong.MaxValue << (at & 63) : set[word];
            if (rest != 0) return (word << 6) + BitOperations.TrailingZeroCount(rest);
        }
        return -1;
    }

    /// <summary>Last slot of the set before a slot; -1 if there is none.</summary>
    public static int LastBefore(ReadOnlySpan<ulong> set, int end)
    {
        if (end <= 0) return -1;
        var word = (end - 1) >> 6;
        var bits = set[word] & ulong.MaxValue >> (63 - ((end - 1) & 63));
        while (bits == 0 && --word >= 0) bits = set[word];
        return bits == 0 ? -1 : (word << 6) + 63 - System.Numerics.BitOperations.LeadingZeroCount(bits);
    }

    /// <summary>Last slot of the set; -1 if it is empty.</summary>
    public static int Last(ReadOnlySpan<ulong> set)
    {
        for (var word = set.Length - 1; word >= 0; word--)
            if (set[word] != 0) return (word << 6) + 63 - BitOperations.LeadingZeroCount(set[word]);
        return -1;
    }

    /// <summary>
    /// Dilates the set downwards: afterwards it holds each slot s for which it held a slot of [s, s + length). This turns busy
    /// slots into infeasible starts of an activity of that length.
    /// </summary>
    public static void DilateDown(Span<ulong> set, int length)
    {
        for (var covered = 1; covered < length;)
        {
            var shift = Math.Min(covered, length - covered);
            UnionShiftedDown(set, shift);
            covered += shift;
        }
    }

    /// <summary>Adds the slots whose counts exceed a limit.</summary>
    public static void AddWhereAbove(ReadOnlySpan<ushort> counts, int limit, Span<ulong> set)
    {
        if (limit >= ushort.MaxValue) return;
        var limits = Vector256.Create((ushort)limit);
        ref var row = ref MemoryMarshal.GetReference(counts);
        for (var word = 0; word < set.Length; word++)
        {
            var bits = 0UL;
            for (var part = 0; part < 4; part++)
            {
                var lanes = Vector256.LoadUnsafe(ref row, (nuint)((word << 6) + (part << 4)));
                bits |= (ulong)Vector256.GreaterThan(lanes, limits).ExtractMostSignificantBits() << (part << 4);
            }
            set[word] |= bits;
        }
    }

    /// <summary>Adds the first and last slot of each run of consecutive slots to another set.</summary>
    public static void AddRunEnds(ReadOnlySpan<ulong> set, Span<ulong> runEnds)
    {
        for (var word = 0; word < set.Length; word++)
        {
            var below = set[word] << 1 | (word > 0 ? set[word - 1] >> 63 : 0);
            var above = set[word] >> 1 | (word + 1 < set.Length ? set[word + 1] << 63 : 0);
            runEnds[word] |= set[word] & ~(below & above);
        }
    }

    private static void UnionShiftedDown(Span<ulong> set, int shift)
    {
        var (words, bits) = (shift >> 6, shift & 63);
        for (var word = 0; word + words < set.Length; word++)
        {
            var moved = set[word + words] >> bits;
            if (bits > 0 && word + words + 1 < set.Length) moved |= set[word + words + 1] << (64 - bits);
            set[word] |= moved;
        }
    }

    /// <summary>Bits of the slots of [from, to) in one word of a set.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ulong Mask(int word, int from, int to)
    {
        var (low, high) = (from - (word << 6), to - (word << 6));
        if (low >= 64 || high <= 0) return 0;
        var mask = high >= 64 ? ulong.MaxValue : (1UL << high) - 1;
        return low <= 0 ? mask : mask & ulong.MaxValue << low;
    }
}
