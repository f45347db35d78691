using System.Diagnostics;

namespace SetWeek.Bench.Serving;

/// <summary>Requests under way at once, and how long each took.</summary>
/// <param name="PerSecond">Answered requests a second.</param>
/// <param name="Failed">Requests that were not answered with success.</param>
internal sealed record Load(double PerSecond, Latencies Latencies, int Failed)
{
    /// <summary>A number of clients, each of which sends its next request when the last one is answered.</summary>
    public static async Task<Load> Closed(int clients, TimeSpan time, Func<Task<bool>> request)
    {
        var (started, failed) = (Stopwatch.GetTimestamp(), 0);
        var all = await Task.WhenAll(Enumerable.Range(0, clients).Select(_ => Task.Run(async () =>
        {
            var own = new List<double>();
            while (Stopwatch.GetElapsedTime(started) < time)
            {
                var sent = Stopwatch.GetTimestamp();
                if (!await request()) Interlocked.Increment(ref failed);
                own.Add(Stopwatch.GetElapsedTime(sent).TotalMilliseconds);
            }
            return own;
        })));
        var taken = all.SelectMany(own => own).ToList();
        return new Load(taken.Count / Stopwatch.GetElapsedTime(started).TotalSeconds, Latencies.Of(taken), failed);
    }

    /// <summary>
    /// Requests at a fixed rate, whether or not earlier ones are answered. A latency counts from the time at which the request was
    /// due, so that a stall is not left out.
    /// </summary>
    public static async Task<Load> Paced(double perSecond, TimeSpan time, Func<Task<bool>> request)
    {
        var (started, failed, due) = (Stopwatch.GetTimestamp(), 0, 0);
        var under = new List<Task<double>>();
        while (Stopwatch.GetElapsedTime(started) < time)
        {
            for (; due < Stopwatch.GetElapsedTime(started).TotalSeconds * perSecond; due++)
                under.Add(Send(TimeSpan.FromSeconds(due / perSecond)));
            await Task.Delay(1);
        }
        var taken = await Task.WhenAll(under);
        return new Load(taken.Length / Stopwatch.GetElapsedTime(started).TotalSeconds, Latencies.Of(taken), failed);

        async Task<double> Send(TimeSpan at)
        {
            await Task.Yield();
            if (!await request()) Interlocked.Increment(ref failed);
            return (Stopwatch.GetElapsedTime(started) - at).TotalMilliseconds;
        }
    }
}

/// <summary>Milliseconds, rounded to tenths.</summary>
internal sealed record Latencies(double P50, double P99, double Max)
{
    public static Latencies Of(IReadOnlyCollection<double> taken)
    {
        var ordered = taken.Order().ToList();
        return ordered.Count == 0 ? new Latencies(0, 0, 0) : new Latencies(At(0.5), At(0.99), Math.Round(ordered[^1], 1));

        double At(double share) => Math.Round(ordered[Math.Min(ordered.Count - 1, (int)(ordered.Count * share))], 1);
    }
}
