using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Model.Rules.Shifts;

/// <summary>
/// The break rule: a shift longer than the person's limit has exactly one break of the set length, and is not longer than
/// that limit before the break or after it. A shorter shift has no break. The break keeps clear of both ends of the shift. Where
/// the person has two or more pieces of work in the shift, it lies after the end of the first and before the start of the last.
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
            if (needed && !problem.HasBegun(shift))
                foreach (var sentence in Misplaced(problem, schedule, shift, rest))
                    yield return BreachOf(problem, shift, sentence, unavoidable: false);
        }
    }

    /// <summary>What is wrong with the place of a break in a shift that can still be drawn anew.</summary>
    private static IEnumerable<string> Misplaced(Problem problem, Schedule schedule, ScheduledShift shift, Span rest)
    {
        var person = problem.Crew[shift.Person];
        if (rest.From - shift.From < person.BreakClear)
            yield return $"{person.Name}'s break starts {RulePhrases.Duration(Math.Max(0, rest.From - shift.From))} after the "
                + $"shift does; at least {RulePhrases.Duration(person.BreakClear)} are required.";
        if (shift.To - rest.To < person.BreakClear)
            yield return $"{person.Name}'s break ends {RulePhrases.Duration(Math.Max(0, shift.To - rest.To))} before the "
                + $"shift does; at least {RulePhrases.Duration(person.BreakClear)} are required.";
        var pieces = PiecesOfWork(problem, schedule, shift);
        if (pieces.Count < 2) yield break;
        var (first, last) = (pieces.MinBy(piece => piece.Span.From), pieces.MaxBy(piece => piece.Span.From));
        if (rest.From < first.Span.To)
            yield return $"{person.Name}'s break {RulePhrases.Span(problem, rest)} comes before the end of the first work of the "
                + $"shift, {first.Name}, at {RulePhrases.Time(problem, first.Span.To)}.";
        if (rest.To > last.Span.From)
            yield return $"{person.Name}'s break {RulePhrases.Span(problem, rest)} comes after the start of the last work of the "
                + $"shift, {last.Name}, at {RulePhrases.Time(problem, last.Span.From)}.";
    }

    /// <summary>
    /// The person's work in the shift that has not begun. The keyholder's opening and closing are a piece of work each; in a
    /// night under way the store is open already, so they do not count there.
    /// </summary>
    private static List<(Span Span, string Name)> PiecesOfWork(Problem problem, Schedule schedule, ScheduledShift shift)
    {
        var pieces = schedule.Work
            .Where(work => work.Night == shift.Night && !problem.HasBegun(work)
                && work.Assignments.Any(assignment => assignment.Person == shift.Person))
            .Select(work => (work.Span, RulePhrases.Work(problem, work).TrimEnd(','))).ToList();
        if (!problem.Rules.KeyholderPresent || schedule.Keyholders[shift.Night] != shift.Person
            || problem.HasBegun(problem.Nights[shift.Night])) return pieces;
        if (problem.Rules.OpeningMinutes is > 0 and var opening)
            pieces.Add((new Span(shift.From, shift.From + opening), "opening the store"));
        if (problem.Rules.ClosingMinutes is > 0 and var closing)
            pieces.Add((new Span(shift.To - closing, shift.To), "closing the store"));
        return pieces;
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
