using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Replanning;

/// <summary>What the facts have done to the published plan, as the kinds of option look at it.</summary>
internal sealed class ReplanSituation
{
    private readonly bool[] wasPlaced;

    /// <param name="problem">Of a re-plan.</param>
    public ReplanSituation(Problem problem)
    {
        Problem = problem;
        var published = problem.Facts!.PublishedWithActuals;
        wasPlaced = published.PlacedDisplays(problem);
        LastNight = published.Work.Select(work => work.Night).DefaultIfEmpty(-1).Max();
        Disturbed = [.. Checker.Check(problem, published).SelectMany(breach => DisplaysOf(breach.About, published))
            .GroupBy(display => display).OrderByDescending(group => group.Count()).ThenBy(group => group.Key)
            .Select(group => problem.Displays[group.Key])];
    }

    public Problem Problem { get; }

    /// <summary>The last night with published work; -1: none.</summary>
    public int LastNight { get; }

    /// <summary>Displays that published work which the facts forbid belongs to, the most disturbed first.</summary>
    public IReadOnlyList<IndexedDisplay> Disturbed { get; }

    /// <summary>It was to stand, and nothing of it has begun.</summary>
    public bool MayBeLeftOut(IndexedDisplay display) => wasPlaced[display.Index] && !Problem.Facts!.StaysPlaced[display.Index];

    private IEnumerable<int> DisplaysOf(RuleSubject about, Schedule published)
    {
        if (about.Display is { } display) return [Problem.DisplayOf(display)];
        if (about.Task is { } task) return [Problem.Tasks[Problem.TaskOf(task)].Display];
        if (about is not { Person: { } person, Night: { } night }) return [];
        // Somebody who cannot come: what they were to do.
        return published.Work
            .Where(work => work.Night == Problem.NightOf(night) && work.Stint is not null
                && work.Assignments.Any(assignment => assignment.Person == Problem.PersonOf(person)))
            .Select(work => Problem.Stints[work.Stint!.Value].Task.Display);
    }
}
