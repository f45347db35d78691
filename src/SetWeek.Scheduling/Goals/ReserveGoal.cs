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
        var beyond = 100 * work - (problem.Rules.ReservePercent ?? 60) * Available(problem);
        return beyond <= 0 ? 0 : (beyond + 99) / 100;
    }

    private static long Available(Problem problem) => problem.Crew.Sum(person =>
        (long)Math.Min(Minutes(person.Available[problem.Nights.Count - 1], problem.Nights[^1].Span), person.MaxMinutesPerNight));

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

    public GoalTerm Post(ExactModel model)
    {
        var (night, sum) = (model.Problem.Nights.Count - 1, LinearExpr.NewBuilder(model.Jobs.Count));
        foreach (var job in model.Jobs)
        {
            if (job.Begun)
            {
                if (job.Fixed!.Night == night) sum.Add(job.Fixed.Span.Minutes * job.Fixed.People.Count);
                continue;
            }
            for (var mode = 0; mode < job.Ways.Count; mode++)
                if (job.Places[mode, night] is var place && !model.IsNo(place))
                    sum.AddTerm(place, job.Sizes[mode] * model.Unit * job.Ways[mode].People);
        }
        var beyond = model.Cp.NewIntVar(0, int.MaxValue, "");
        model.AtMost(sum - beyond, (model.Problem.Rules.ReservePercent ?? 60) * Available(model.Problem) / 100);
        return beyond;
    }
}
