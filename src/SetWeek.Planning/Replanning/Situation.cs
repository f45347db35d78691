using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Replanning;

/// <summary>What the facts have done to the published plan, as the kinds of option look at it.</summary>
internal sealed class Situation
{
    private readonly bool[] placed;

    /// <param name="problem">Of a re-plan.</param>
    public Situation(Problem problem)
    {
        Problem = problem;
        var published = problem.Facts!.AsPublished;
        placed = published.Placed(problem);
        LastNight = published.Work.Select(work => work.Night).DefaultIfEmpty(-1).Max();
        Disturbed = [.. Checker.Check(problem, published).SelectMany(breach => DisplaysOf(breach.About, published))
            .GroupBy(display => display).OrderByDescending(group => group.Count()).ThenBy(group => group.Key)
            .Select(group => problem.Displays[group.Key])];
    }

    public Problem Problem { get; }

    /// <summary>The last night with published work; -1: none.</summary>
    public int LastNight { get; }

    /// <summary>Displays that published work which the facts forbid belongs to, the most disturbed first.</summary>
    public IReadOnlyList<Exhibit> Disturbed { get; }

    /// <summary>It was to stand, and nothing of it has begun.</summary>
    public bool MayGo(Exhibit display) => placed[display.Index] && !Problem.Facts!.StaysPlaced[display.Index];

    private IEnumerable<int> DisplaysOf(About about, Schedule published)
    {
        if (about.Display is { } display) return [Problem.DisplayOf(display)];
        if (about.Task is { } task) return [Problem.Activities[Problem.TaskOf(task)].Display];
        if (about is not { Person: { } person, Night: { } night }) return [];
        // Somebody who cannot come: what they were to do.
        return published.Work
            .Where(work => work.Night == Problem.NightOf(night) && work.Stint is not null
                && work.People.Any(hand => hand.Person == Problem.PersonOf(person)))
            .Select(work => Problem.Stints[work.Stint!.Value].Task.Display);
    }
}
