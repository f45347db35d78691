using System.Numerics;
using System.Runtime.InteropServices;
using SetWeek.Model.Time;

namespace SetWeek.Model.Simulation;

/// <summary>
/// Vector operations on a block of runs. A lane is a run: the values of all lanes are adjacent in memory, so that one instruction
/// handles several runs. Results do not depend on the width of the processor's vectors.
/// </summary>
internal static class Lanes
{
    /// <summary>Runs in a block; sets of lanes are bits of a 64-bit number.</summary>
    public const int Count = 64;

    /// <summary>Stands for the end of an activity that was not needed. It is earlier than every real time.</summary>
    public const float None = -1e9f;

    /// <summary>Stands for the end of an activity that is not done in any night. It is later than every real time.</summary>
    public const float Never = 1e9f;

    /// <summary>The cause of a start that waits for no other activity.</summary>
    public const int NoPredecessor = -1;

    /// <summary>
    /// Delays the times to the ends plus a lag. In the lanes that this delays, the given activity becomes the binding
    /// predecessor.
    /// </summary>
    public static void DelayUntil(Span<float> times, Span<int> predecessors, ReadOnlySpan<float> ends, float lag, int predecessor)
    {
        var t = Cast(times);
        var causes = Cast(predecessors);
        var e = Cast(ends);
        var (lags, cause) = (new Vector<float>(lag), new Vector<int>(predecessor));
        for (var i = 0; i < t.Length; i++)
        {
            var end = e[i] + lags;
            causes[i] = Vector.ConditionalSelect(Vector.GreaterThan(end, t[i]), cause, causes[i]);
            t[i] = Vector.Max(t[i], end);
        }
    }

    /// <summary>The same without lag, if each lane has its own predecessor.</summary>
    public static void DelayUntil(
        Span<float> times, Span<int> predecessors, ReadOnlySpan<float> ends, ReadOnlySpan<int> endCauses)
    {
        var t = Cast(times);
        var causes = Cast(predecessors);
        var e = Cast(ends);
        var c = Cast(endCauses);
        for (var i = 0; i < t.Length; i++)
        {
            causes[i] = Vector.ConditionalSelect(Vector.GreaterThan(e[i], t[i]), c[i], causes[i]);
            t[i] = Vector.Max(t[i], e[i]);
        }
    }

    /// <summary>Delays the times to the end of a span in the lanes in which work of so many minutes would overlap it.</summary>
    public static void DelayPast(Span<float> times, Span<int> predecessors, Span span, float minutes)
    {
        var t = Cast(times);
        var causes = Cast(predecessors);
        var (from, to, length) = (new Vector<float>(span.From), new Vector<float>(span.To), new Vector<float>(minutes));
        for (var i = 0; i < t.Length; i++)
        {
            var overlaps = Vector.LessThan(t[i], to) & Vector.GreaterThan(t[i] + length, from);
            causes[i] = Vector.ConditionalSelect(overlaps, new Vector<int>(NoPredecessor), causes[i]);
            t[i] = Vector.ConditionalSelect(overlaps, to, t[i]);
        }
    }

    public static void Add(Span<float> sums, ReadOnlySpan<float> times, ReadOnlySpan<float> minutes)
    {
        var s = Cast(sums);
        var t = Cast(times);
        var m = Cast(minutes);
        for (var i = 0; i < s.Length; i++) s[i] = t[i] + m[i];
    }

    /// <summary>Assigns in the lanes whose mask is set (-1); the others keep their values.</summary>
    public static void AssignWhere(Span<float> target, ReadOnlySpan<int> mask, ReadOnlySpan<float> values)
    {
        var t = Cast(target);
        var k = Cast(mask);
        var v = Cast(values);
        for (var i = 0; i < t.Length; i++) t[i] = Vector.ConditionalSelect(k[i], v[i], t[i]);
    }

    public static void AssignWhere(Span<int> target, ReadOnlySpan<int> mask, int value)
    {
        var t = Cast(target);
        var k = Cast(mask);
        var v = new Vector<int>(value);
        for (var i = 0; i < t.Length; i++) t[i] = Vector.ConditionalSelect(k[i], v, t[i]);
    }

    private static Span<Vector<float>> Cast(Span<float> lanes) => MemoryMarshal.Cast<float, Vector<float>>(lanes);

    private static Span<Vector<int>> Cast(Span<int> lanes) => MemoryMarshal.Cast<int, Vector<int>>(lanes);

    private static ReadOnlySpan<Vector<float>> Cast(ReadOnlySpan<float> lanes) => MemoryMarshal.Cast<float, Vector<float>>(lanes);

    private static ReadOnlySpan<Vector<int>> Cast(ReadOnlySpan<int> lanes) => MemoryMarshal.Cast<int, Vector<int>>(lanes);
}
