using SetWeek.Model.Durations;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Tests.Compact;

/// <summary>Compares slot sets with plain lists, also across the boundaries of 64-bit words.</summary>
public class SlotSetTests
{
    private const int Count = 192;

    [Theory]
    [InlineData(1), InlineData(2), InlineData(7), InlineData(64), InlineData(65), InlineData(100)]
    public void Dilation_bars_each_start_whose_duration_meets_a_taken_slot(int length)
    {
        var taken = Taken(seed: length);
        var set = Set(taken);
        SlotSet.DilateDown(set, length);
        for (var slot = 0; slot < Count; slot++)
            Assert.Equal(Enumerable.Range(slot, length).Any(next => next < Count && taken[next]), SlotSet.Contains(set, slot));
    }

    [Theory]
    [InlineData(0, 0), InlineData(0, 64), InlineData(3, 191), InlineData(63, 65), InlineData(64, 128), InlineData(100, 101)]
    public void A_span_is_added_kept_and_removed(int from, int to)
    {
        var set = new ulong[Count / 64];
        SlotSet.Add(set, from, to);
        for (var slot = 0; slot < Count; slot++) Assert.Equal(slot >= from && slot < to, SlotSet.Contains(set, slot));
        Assert.Equal(from < to, SlotSet.ContainsAny(set, from, to));
        Assert.Equal(from < to ? from : -1, SlotSet.First(set));
        Assert.Equal(from < to ? to - 1 : -1, SlotSet.Last(set));
        Array.Fill(set, ulong.MaxValue);
        SlotSet.KeepBetween(set, from, to);
        for (var slot = 0; slot < Count; slot++) Assert.Equal(slot >= from && slot < to, SlotSet.Contains(set, slot));
        Array.Fill(set, ulong.MaxValue);
        SlotSet.Remove(set, from, to);
        for (var slot = 0; slot < Count; slot++) Assert.Equal(slot < from || slot >= to, SlotSet.Contains(set, slot));
    }

    [Fact]
    public void Counts_above_a_limit_are_found_in_every_vector_lane()
    {
        ushort[] counts = [.. Enumerable.Range(0, Count).Select(slot => (ushort)(slot * 37 % 11))];
        var set = new ulong[Count / 64];
        SlotSet.AddWhereAbove(counts, 6, set);
        for (var slot = 0; slot < Count; slot++) Assert.Equal(counts[slot] > 6, SlotSet.Contains(set, slot));
    }

    private static bool[] Taken(int seed)
    {
        var random = new SplitMix64(seed);
        return [.. Enumerable.Range(0, Count).Select(_ => random.NextBoolean(0.03))];
    }

    private static ulong[] Set(bool[] taken)
    {
        var set = new ulong[Count / 64];
        for (var slot = 0; slot < Count; slot++) if (taken[slot]) SlotSet.Add(set, slot, slot + 1);
        return set;
    }
}
