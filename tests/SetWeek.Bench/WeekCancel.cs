using System.Diagnostics;
using SetWeek.Planning;
using SetWeek.Planning.Search;

namespace SetWeek.Bench;

/// <summary>Measures how soon the planner stops after a cancellation, on a large week.</summary>
internal static class WeekCancel
{
    public static void Run()
    {
        foreach (var after in new[] { 50, 500, 2000, 4000 })
        {
            using var stop = new CancellationTokenSource();
            var clock = Stopwatch.StartNew();
            stop.CancelAfter(after);
            Planner.Plan(WeekGenerator.Make(WeekGenerator.Size.Large, 2),
                new SearchLimits { Time = TimeSpan.FromSeconds(30) }, stop: stop.Token);
            JsonLines.Print(new { cancelAfterMilliseconds = after, obeyedInMilliseconds = clock.ElapsedMilliseconds - after });
        }
    }
}
