using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Planning.Explaining.Reasons.Holding;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Reasons;

/// <summary>What stops a stint from starting earlier, all else of the plan standing where it is.</summary>
internal static class HeldHere
{
    /// <returns>And the plan with the earliest start at which nothing is broken; null where there is none.</returns>
    public static (WhyHere Here, Schedule? Open) Of(Subject subject, Budget budget)
    {
        var problem = subject.Problem;
        if (subject.Begun)
        {
            var verb = subject.Work.To <= problem.Facts!.Now ? "It was begun" : "It has begun";
            var fact = new Held("frozen", Say.About(problem, subject.Work), $"{verb} at {Say.At(problem, subject.Work.From)}.");
            return (new WhyHere([fact], null, 0, null), null);
        }
        var (stopped, open) = (new List<Start>(), new List<Start>());
        foreach (var start in new Starts(subject).NearestFirst())
        {
            (start.Open is null ? stopped : open).Add(start);
            if (budget.Spent) break;
        }
        var earliest = open.Count == 0 ? null : open[^1];
        var (first, looked) = (stopped.Concat(open).Min(start => start.Minute), problem.Nights[0].Opens);
        return (new WhyHere([.. Cover.Of(stopped).Select(hold => hold.Told(problem))],
            earliest is null ? null : Earlier(subject, earliest.Open!), open.Count,
            first < looked ? null : problem.Grid.TimeOf(first)), earliest?.Open);
    }

    internal static EarlierStart Earlier(Subject subject, Schedule plan)
    {
        var problem = subject.Problem;
        var work = plan.ByStint(problem)[subject.Stint.Index]!;
        return new EarlierStart(problem.Nights[work.Night].Id, problem.Grid.TimeOf(work.From),
            [.. work.People.Select(hand => new PlannedPerson(problem.Crew[hand.Person].Id, problem.Skills[hand.Skill]))],
            Starts.Differences(problem, subject.Plan, plan));
    }
}
