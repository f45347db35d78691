using System.Numerics;
using System.Runtime.InteropServices;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>
/// What is done to many runs at once. A lane is a run: times and the pieces that hold them there lie side by side, a run each, so
/// that the processor takes as many in one go as it is wide. Results do not depend on how wide that is.
/// </summary>
internal static class Lanes
{
    public const int Count = 64;

    /// <summary>No end: nothing of the kind has been done.</summary>
    public const float None = -1e9f;

    /// <summary>Is not done in any night of the week.</summary>
    public const float Never = 1e9f;

    /// <summary>Nothing holds it but the night itself.</summary>
    public const int NoPredecessor = -1;

    /// <summary>
    /// Not before those ends and so much later; where that is later than known so far, they are what it waits for.
    /// </summary>
    public static void DelayUntil(Span<float> times, Span<int> predecessors, ReadOnlySpan<float> ends, float lag, int predecessor)
    {
        var t = Cast(times);
        var h = Cast(predecessors);
        var e = Cast(ends);
        var (after, who) = (new Vector<float>(lag), new Vector<int>(predecessor));
        for (var at = 0; at < t.Length; at++)
        {
            var end = e[at] + after;
            h[at] = Vector.ConditionalSelect(Vector.GreaterThan(end, t[at]), who, h[at]);
            t[at] = Vector.Max(t[at], end);
        }
    }

    /// <summary>The same where each lane has its own piece to wait for.</summary>
    public static void DelayUntil(Span<float> times, Span<int> predecessors, ReadOnlySpan<float> ends, ReadOnlySpan<int> endCauses)
    {
        var t = Cast(times);
        var h = Cast(predecessors);
        var e = Cast(ends);
        var who = Cast(endCauses);
        for (var at = 0; at < t.Length; at++)
        {
            h[at] = Vector.ConditionalSelect(Vector.GreaterThan(e[at], t[at]), who[at], h[at]);
            t[at] = Vector.Max(t[at], e[at]);
        }
    }

    /// <summary>Past a span in which it would overlap: to the end of it.</summary>
    public static void DelayPast(Span<float> times, Span<int> predecessors, Span span, float minutes)
    {
        var t = Cast(times);
        var h = Cast(predecessors);
        var (from, to, length) = (new Vector<float>(span.From), new Vector<float>(span.To), new Vector<float>(minutes));
        for (var at = 0; at < t.Length; at++)
        {
            var overlaps = Vector.LessThan(t[at], to) & Vector.GreaterThan(t[at] + length, from);
            h[at] = Vector.ConditionalSelect(overlaps, new Vector<int>(NoPredecessor), h[at]);
            t[at] = Vector.ConditionalSelect(overlaps, to, t[at]);
        }
    }

    public static void Add(Span<float> sums, ReadOnlySpan<float> times, ReadOnlySpan<float> minutes)
    {
        var s = Cast(sums);
        var t = Cast(times);
        var m = Cast(minutes);
        for (var at = 0; at < s.Length; at++) s[at] = t[at] + m[at];
    }

    /// <summary>In the lanes whose mask is set (-1); the others keep what they have.</summary>
    public static void AssignWhere(Span<float> target, ReadOnlySpan<int> mask, ReadOnlySpan<float> values)
    {
        var t = Cast(target);
        var k = Cast(mask);
        var v = Cast(values);
        for (var at = 0; at < t.Length; at++) t[at] = Vector.ConditionalSelect(k[at], v[at], t[at]);
    }

    public static void AssignWhere(Span<int> target, ReadOnlySpan<int> mask, int value)
    {
        var t = Cast(target);
        var k = Cast(mask);
        var v = new Vector<int>(value);
        for (var at = 0; at < t.Length; at++) t[at] = Vector.ConditionalSelect(k[at], v, t[at]);
    }

    private static Span<Vector<float>> Cast(Span<float> lanes) => MemoryMarshal.Cast<float, Vector<float>>(lanes);

    private static Span<Vector<int>> Cast(Span<int> lanes) => MemoryMarshal.Cast<int, Vector<int>>(lanes);

    private static ReadOnlySpan<Vector<float>> Cast(ReadOnlySpan<float> lanes) => MemoryMarshal.Cast<float, Vector<float>>(lanes);

    private static ReadOnlySpan<Vector<int>> Cast(ReadOnlySpan<int> lanes) => MemoryMarshal.Cast<int, Vector<int>>(lanes);
}
