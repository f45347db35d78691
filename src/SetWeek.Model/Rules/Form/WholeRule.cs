using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Form;

/// <summary>
/// The whole rule: a display is built completely or left out. Each task of a built display is planned once per stint, in
/// order, each stint in one mode and for that mode's duration; no task of another display is planned. A must or its alternate
/// is built. A display and its alternate are never both built.
/// </summary>
internal sealed class WholeRule : IRule
{
    public RuleId Id => RuleId.Whole;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var (byStint, placed) = (schedule.WorkByStint(problem), schedule.PlacedDisplays(problem));
        var times = new int[problem.Stints.Count];
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
                        $"“{display.Name}” may only replace “{problem.Displays[original].Name}”, but both are built.",
                        problem.Facts is { } facts && facts.StaysPlaced[display.Index] && facts.StaysPlaced[original]);
            }
            else if (display.Must && !placed[display.Index] && !(display.Alternate is { } alternate && placed[alternate]))
                yield return BreachOf(display, display.Alternate is { } instead
                    ? $"“{display.Name}” is a must, but neither it nor “{problem.Displays[instead].Name}” is built."
                    : $"“{display.Name}” is a must, but is not built.");
        }
    }

    private IEnumerable<Breach> StintBreaches(Problem problem, Stint stint, int times, ScheduledWork?[] byStint, bool[] placed)
    {
        if (byStint[stint.Index] is not { } work)
        {
            if (placed[stint.Task.Display])
                yield return new Breach(Id, RulePhrases.Subject(problem, stint),
                    $"{RulePhrases.Stint(problem, stint)} is not planned, although "
                        + $"{problem.Displays[stint.Task.Display].Name} is built.");
            yield break;
        }
        if (times > 1)
            yield return new Breach(Id, RulePhrases.Subject(problem, stint),
                $"{RulePhrases.Stint(problem, stint)} is planned {times} times.");
        if (!problem.HasBegun(work))
        {
            if (problem.ModeOf(work) is null)
                yield return new Breach(Id, RulePhrases.Subject(problem, work),
                    $"{RulePhrases.Work(problem, work)} is planned in mode {work.Mode}, which the task does not have.");
            else if (work.Span.Minutes != problem.MinutesOf(stint, work.Mode))
                yield return new Breach(Id, RulePhrases.Subject(problem, work),
                    $"{RulePhrases.Work(problem, work)} is planned for {RulePhrases.Duration(work.Span.Minutes)}, but takes "
                        + $"{RulePhrases.Duration(problem.MinutesOf(stint, work.Mode))}.");
        }
        if (stint.Number > 1 && byStint[stint.Index - 1] is { } previous && work.From < previous.To)
            yield return new Breach(Id, RulePhrases.Subject(problem, work),
                $"{RulePhrases.Work(problem, work)} starts {RulePhrases.Time(problem, work.From)}, before the previous part ends "
                    + $"{RulePhrases.Time(problem, previous.To)}.")
                { IsUnavoidable = problem.HasBegun(work) };
    }

    private Breach BreachOf(IndexedDisplay display, string sentence, bool unavoidable = false) =>
        new(Id, new RuleSubject { Display = display.Id }, sentence) { IsUnavoidable = unavoidable };
}
