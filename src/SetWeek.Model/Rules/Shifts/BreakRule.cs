using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Shifts;

internal sealed class BreakRule : IRule
{
    public string Id => "break";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var shift in schedule.Shifts)
        {
            var (person, needed) = (problem.Crew[shift.Person], shift.Span.Minutes > problem.Crew[shift.Person].BreakAfter);
            if (shift.Break is not { } rest)
            {
                if (needed)
                    yield return Of(problem, shift,
                        $"{person.Name}'s shift is {Say.Length(shift.Span.Minutes)} and has no break; one of "
                            + $"{Say.Length(person.BreakMinutes)} is due after {Say.Length(person.BreakAfter)}.",
                        problem.EndsAsSoonAsItCan(shift));
                continue;
            }
            var (ended, begun) = (problem.Ended(shift), problem.Began(rest));
            if (!needed)
                yield return Of(problem, shift,
                    $"{person.Name}'s shift is {Say.Length(shift.Span.Minutes)}, too short for a break, and has one.",
                    ended || begun);
            if (needed && rest.Minutes != person.BreakMinutes)
                yield return Of(problem, shift,
                    $"{person.Name}'s break is {Say.Length(rest.Minutes)} and should be {Say.Length(person.BreakMinutes)}.",
                    ended || begun);
            if (!shift.Span.Contains(rest))
                yield return Of(problem, shift,
                    $"{person.Name}'s break {Say.Span(problem, rest)} is not in the shift.",
                    ended || begun);
            if (needed && rest.From - shift.From > person.BreakAfter)
                yield return Of(problem, shift,
                    $"{person.Name} is on shift {Say.Length(rest.From - shift.From)} before the break; "
                        + $"{Say.Length(person.BreakAfter)} is the most.",
                    ended || begun || Earliest(problem, schedule, shift) - shift.From > person.BreakAfter);
            if (needed && shift.To - rest.To > person.BreakAfter)
                yield return Of(problem, shift,
                    $"{person.Name} is on shift {Say.Length(shift.To - rest.To)} after the break; "
                        + $"{Say.Length(person.BreakAfter)} is the most.",
                    ended || (begun && problem.EndsAsSoonAsItCan(shift)));
        }
    }

    /// <summary>First moment at which a break can still begin: not before now, nor before the end of running work.</summary>
    private static int Earliest(Problem problem, Schedule schedule, Shift shift)
    {
        if (!problem.Began(shift)) return shift.From;
        var earliest = problem.Facts!.Now;
        foreach (var work in schedule.Work)
            if (problem.Began(work) && work.Night == shift.Night && work.People.Any(hand => hand.Person == shift.Person))
                earliest = Math.Max(earliest, work.To);
        return problem.NextSlot(shift.Night, earliest);
    }

    private Breach Of(Problem problem, Shift shift, string sentence, bool onlyFacts) =>
        new(Id, Say.About(problem, shift), sentence) { OnlyFacts = onlyFacts };
}
