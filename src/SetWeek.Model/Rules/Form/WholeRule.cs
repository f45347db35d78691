using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Form;

internal sealed class WholeRule : IRule
{
    public string Id => "whole";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var (byStint, placed, times) = (schedule.ByStint(problem), schedule.Placed(problem), new int[problem.Stints.Count]);
        foreach (var work in schedule.Work)
            if (work.Stint is { } stint) times[stint]++;
        foreach (var stint in problem.Stints)
            foreach (var breach in StintBreaches(problem, stint, times[stint.Index], byStint, placed))
                yield return breach;
        foreach (var display in problem.Displays)
        {
            if (display.InsteadOf is { } original)
            {
                if (placed[display.Index] && placed[original])
                    yield return Of(display,
                        $"{display.Name} is built although {problem.Displays[original].Name}, which it may replace, is built "
                            + $"too.",
                        problem.Facts is { } facts && facts.StaysPlaced[display.Index] && facts.StaysPlaced[original]);
            }
            else if (display.Must && !placed[display.Index] && !(display.Alternate is { } alternate && placed[alternate]))
                yield return Of(display, display.Alternate is { } instead
                    ? $"{display.Name} is a must, and neither it nor {problem.Displays[instead].Name} is built."
                    : $"{display.Name} is a must and is not built.");
        }
    }

    private IEnumerable<Breach> StintBreaches(Problem problem, Stint stint, int times, Work?[] byStint, bool[] placed)
    {
        if (byStint[stint.Index] is not { } work)
        {
            if (placed[stint.Task.Display])
                yield return new Breach(Id, Say.About(problem, stint),
                    $"{Say.Stint(problem, stint)} is not planned, though {problem.Displays[stint.Task.Display].Name} is built.");
            yield break;
        }
        if (times > 1)
            yield return new Breach(Id, Say.About(problem, stint), $"{Say.Stint(problem, stint)} is planned {times} times.");
        if (!problem.Began(work))
        {
            if (problem.WayOf(work) is null)
                yield return new Breach(Id, Say.About(problem, work),
                    $"{Say.Work(problem, work)} is planned in a way that it does not have (mode {work.Mode}).");
            else if (work.Span.Minutes != problem.MinutesOf(stint, work.Mode))
                yield return new Breach(Id, Say.About(problem, work),
                    $"{Say.Work(problem, work)} has {Say.Length(work.Span.Minutes)} and takes "
                        + $"{Say.Length(problem.MinutesOf(stint, work.Mode))} in one go.");
        }
        if (stint.Number > 1 && byStint[stint.Index - 1] is { } before && work.From < before.To)
            yield return new Breach(Id, Say.About(problem, work),
                $"{Say.Work(problem, work)} starts {Say.At(problem, work.From)}, before the part before it ends "
                    + $"{Say.At(problem, before.To)}.")
                { OnlyFacts = problem.Began(work) };
    }

    private Breach Of(Exhibit display, string sentence, bool onlyFacts = false) =>
        new(Id, new About { Display = display.Id }, sentence) { OnlyFacts = onlyFacts };
}
