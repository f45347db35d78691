using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Replanning;

/// <summary>How the facts affect the published plan; the kinds of option decide by it whether they apply.</summary>
internal sealed class ReplanSituation
{
    private readonly bool[] wasPlaced;

    /// <param name="problem">A problem with facts of a re-plan.</param>
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

    /// <summary>The index of the last night with published work; -1 if there is none.</summary>
    public int LastNight { get; }

    /// <summary>Displays whose published work breaks rules now; those with the most breaches come first.</summary>
    public IReadOnlyList<IndexedDisplay> Disturbed { get; }

    /// <summary>True if the published plan has the display and none of its work has begun.</summary>
    public bool MayBeLeftOut(IndexedDisplay display) => wasPlaced[display.Index] && !Problem.Facts!.StaysPlaced[display.Index];

    private IEnumerable<int> DisplaysOf(RuleSubject about, Schedule published)
    {
        if (about.Display is { } display) return [Problem.DisplayOf(display)];
        if (about.Task is { } task) return [Problem.Tasks[Problem.TaskOf(task)].Display];
        if (about is not { Person: { } person, Night: { } night }) return [];
        // A person's breach in a night disturbs the displays that the person was to work on.
        return published.Work
            .Where(work => work.Night == Problem.NightOf(night) && work.Stint is not null
                && work.Assignments.Any(assignment => assignment.Person == Problem.PersonOf(person)))
            .Select(work => Problem.Stints[work.Stint!.Value].Task.Display);
    }
}
