using System.Numerics;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Scenarios;

/// <summary>Times in every scenario, in rows of equal width: a row for each person, zone, unit or step.</summary>
internal sealed class ScenarioTimes(int rows, int width)
{
    private readonly Vector<float>[] times = new Vector<float>[rows * width];

    /// <summary>The times of a row.</summary>
    public Span<Vector<float>> this[int row] => times.AsSpan(row * width, width);

    /// <summary>Sets all rows to one time.</summary>
    public void Fill(float time) => Array.Fill(times, new Vector<float>(time));

    /// <summary>Raises each time to at least that of another row plus a lag.</summary>
    public static void Raise(Span<Vector<float>> times, ReadOnlySpan<Vector<float>> least, float lag = 0)
    {
        var lags = new Vector<float>(lag);
        for (var at = 0; at < times.Length; at++) times[at] = Vector.Max(times[at], least[at] + lags);
    }

    /// <summary>Moves work of a length that would overlap a ban to the end of the ban.</summary>
    public static void DelayPast(Span<Vector<float>> starts, Span ban, float minutes)
    {
        var (from, to, length) = (new Vector<float>(ban.From), new Vector<float>(ban.To), new Vector<float>(minutes));
        for (var at = 0; at < starts.Length; at++)
        {
            var overlaps = Vector.LessThan(starts[at], to) & Vector.GreaterThan(starts[at] + length, from);
            starts[at] = Vector.ConditionalSelect(overlaps, to, starts[at]);
        }
    }

    /// <summary>Ends of work of the same length in every scenario.</summary>
    public static void Add(Span<Vector<float>> ends, ReadOnlySpan<Vector<float>> starts, float minutes)
    {
        var length = new Vector<float>(minutes);
        for (var at = 0; at < ends.Length; at++) ends[at] = starts[at] + length;
    }

    /// <summary>Ends of work with a length for each scenario.</summary>
    public static void Add(Span<Vector<float>> ends, ReadOnlySpan<Vector<float>> starts, ReadOnlySpan<float> minutes)
    {
        for (var at = 0; at < ends.Length; at++)
            ends[at] = starts[at] + new Vector<float>(minutes.Slice(at * Vector<float>.Count, Vector<float>.Count));
    }
}
