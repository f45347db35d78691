using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Form;

internal sealed class WholeRule : IRule
{
    public RuleId Id => RuleId.Whole;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var (byStint, placed, times) = (schedule.WorkByStint(problem), schedule.PlacedDisplays(problem), new int[problem.Stints.Count]);
        foreach (var work in schedule.Work)
            if (work.Stint is { } stint) times[stint]++;
        foreach (var stint in problem.Stints)
            foreach (var breach in StintBreaches(problem, stint, times[stint.Index], byStint, placed))
                yield return breach;
        foreach (var display in problem.Displays)
        {
            if (display.AlternateOf is { } original)
            {
                if (placed[display.Index] && placed[original])
                    yield return BreachOf(display,
                        $"{display.Name} is built although {problem.Displays[original].Name}, which it may replace, is built "
                            + $"too.",
                        problem.Facts is { } facts && facts.StaysPlaced[display.Index] && facts.StaysPlaced[original]);
            }
            else if (display.Must && !placed[display.Index] && !(display.Alternate is { } alternate && placed[alternate]))
                yield return BreachOf(display, display.Alternate is { } instead
                    ? $"{display.Name} is a must, and neither it nor {problem.Displays[instead].Name} is built."
                    : $"{display.Name} is a must and is not built.");
        }
    }

    private IEnumerable<Breach> StintBreaches(Problem problem, Stint stint, int times, ScheduledWork?[] byStint, bool[] placed)
    {
        if (byStint[stint.Index] is not { } work)
        {
            if (placed[stint.Task.Display])
                yield return new Breach(Id, RulePhrases.Subject(problem, stint),
                    $"{RulePhrases.Stint(problem, stint)} is not planned, though {problem.Displays[stint.Task.Display].Name} is built.");
            yield break;
        }
        if (times > 1)
            yield return new Breach(Id, RulePhrases.Subject(problem, stint), $"{RulePhrases.Stint(problem, stint)} is planned {times} times.");
        if (!problem.HasBegun(work))
        {
            if (problem.ModeOf(work) is null)
                yield return new Breach(Id, RulePhrases.Subject(problem, work),
                    $"{RulePhrases.Work(problem, work)} is planned in a way that it does not have (mode {work.Mode}).");
            else if (work.Span.Minutes != problem.MinutesOf(stint, work.Mode))
                yield return new Breach(Id, RulePhrases.Subject(problem, work),
                    $"{RulePhrases.Work(problem, work)} has {RulePhrases.Duration(work.Span.Minutes)} and takes "
                        + $"{RulePhrases.Duration(problem.MinutesOf(stint, work.Mode))} in one go.");
        }
        if (stint.Number > 1 && byStint[stint.Index - 1] is { } before && work.From < before.To)
            yield return new Breach(Id, RulePhrases.Subject(problem, work),
                $"{RulePhrases.Work(problem, work)} starts {RulePhrases.Time(problem, work.From)}, before the part before it ends "
                    + $"{RulePhrases.Time(problem, before.To)}.")
                { IsUnavoidable = problem.HasBegun(work) };
    }

    private Breach BreachOf(IndexedDisplay display, string sentence, bool unavoidable = false) =>
        new(Id, new RuleSubject { Display = display.Id }, sentence) { IsUnavoidable = unavoidable };
}
