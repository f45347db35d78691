using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Goals;

internal sealed class ReserveGoal : IGoal
{
    public string Id => "reserve";

    public long Measure(Problem problem, Schedule schedule)
    {
        var night = problem.Nights[^1];
        var work = schedule.Work.Where(work => work.Night == night.Index)
            .Sum(work => (long)work.Span.Minutes * work.People.Count);
        var available = problem.Crew
            .Sum(person => (long)Math.Min(Minutes(person.Available[night.Index], night.Span), person.MaxMinutesPerNight));
        var beyond = 100 * work - (problem.Rules.ReservePercent ?? 60) * available;
        return beyond <= 0 ? 0 : (beyond + 99) / 100;
    }

    /// <summary>Minutes of the night that some entry covers; where entries overlap, once.</summary>
    private static int Minutes(IReadOnlyList<Span> entries, Span night)
    {
        var (minutes, reached) = (0, night.From);
        foreach (var entry in entries.OrderBy(entry => entry.From))
        {
            var to = Math.Min(entry.To, night.To);
            minutes += Math.Max(0, to - Math.Max(entry.From, reached));
            reached = Math.Max(reached, to);
        }
        return minutes;
    }

    public LinearExpr Post(ExactModel model) => LinearExpr.Constant(0);
}
