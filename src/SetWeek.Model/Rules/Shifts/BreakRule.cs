using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Shifts;

/// <summary>
/// The break rule: a shift longer than the person's limit has exactly one break of the set length, and is not longer than
/// that limit before the break or after it. A shorter shift has no break.
/// </summary>
internal sealed class BreakRule : IRule
{
    public RuleId Id => RuleId.Break;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var shift in schedule.Shifts)
        {
            var (person, needed) = (problem.Crew[shift.Person], shift.Span.Minutes > problem.Crew[shift.Person].BreakAfter);
            if (shift.Break is not { } rest)
            {
                if (needed)
                    yield return BreachOf(problem, shift,
                        $"{person.Name}'s shift is {RulePhrases.Duration(shift.Span.Minutes)} long and has no break; a shift "
                            + $"longer than {RulePhrases.Duration(person.BreakAfter)} needs one of "
                            + $"{RulePhrases.Duration(person.BreakMinutes)}.",
                        problem.EndsAtEarliest(shift));
                continue;
            }
            var (ended, begun) = (problem.HasEnded(shift), problem.HasBegun(rest));
            if (!needed)
                yield return BreachOf(problem, shift,
                    $"{person.Name}'s shift has a break, but at "
                        + $"{RulePhrases.Duration(shift.Span.Minutes)} it is too short for one.",
                    ended || begun);
            if (needed && rest.Minutes != person.BreakMinutes)
                yield return BreachOf(problem, shift,
                    $"{person.Name}'s break is {RulePhrases.Duration(rest.Minutes)}, but must be "
                        + $"{RulePhrases.Duration(person.BreakMinutes)}.",
                    ended || begun);
            if (!shift.Span.Contains(rest))
                yield return BreachOf(problem, shift,
                    $"{person.Name}'s break {RulePhrases.Span(problem, rest)} is not within the shift.",
                    ended || begun);
            if (needed && rest.From - shift.From > person.BreakAfter)
                yield return BreachOf(problem, shift,
                    $"{person.Name} is on shift {RulePhrases.Duration(rest.From - shift.From)} before the break; "
                        + $"at most {RulePhrases.Duration(person.BreakAfter)} are allowed.",
                    ended || begun || EarliestBreakStart(problem, schedule, shift) - shift.From > person.BreakAfter);
            if (needed && shift.To - rest.To > person.BreakAfter)
                yield return BreachOf(problem, shift,
                    $"{person.Name} is on shift {RulePhrases.Duration(shift.To - rest.To)} after the break; "
                        + $"at most {RulePhrases.Duration(person.BreakAfter)} are allowed.",
                    ended || (begun && problem.EndsAtEarliest(shift)));
        }
    }

    /// <summary>
    /// First slot at which a break can still begin. In a begun shift it is not before now or the end of running work.
    /// </summary>
    private static int EarliestBreakStart(Problem problem, Schedule schedule, ScheduledShift shift)
    {
        if (!problem.HasBegun(shift)) return shift.From;
        var earliest = problem.Facts!.Now;
        foreach (var work in schedule.Work)
            if (problem.HasBegun(work) && work.Night == shift.Night
                && work.Assignments.Any(assignment => assignment.Person == shift.Person))
                earliest = Math.Max(earliest, work.To);
        return problem.NextSlot(shift.Night, earliest);
    }

    private Breach BreachOf(Problem problem, ScheduledShift shift, string sentence, bool unavoidable) =>
        new(Id, RulePhrases.Subject(problem, shift), sentence) { IsUnavoidable = unavoidable };
}
