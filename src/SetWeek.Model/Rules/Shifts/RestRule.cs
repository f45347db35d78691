using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Shifts;

/// <summary>
/// The rest rule: between two shifts of a person, and between a shift and a commitment, lies at least the minimum rest. A
/// commitment that ends shortly before a shift forms one working day with it; no rest is due between the two.
/// </summary>
internal sealed class RestRule : IRule
{
    public RuleId Id => RuleId.Rest;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var person in problem.Crew)
        {
            var shifts = schedule.Shifts.Where(shift => shift.Person == person.Index).OrderBy(shift => shift.From).ToArray();
            for (var next = 1; next < shifts.Length; next++)
            {
                var rest = shifts[next].From - shifts[next - 1].To;
                // The on-shift rule reports two shifts in one night.
                if (rest < person.MinRest && shifts[next].Night != shifts[next - 1].Night)
                    yield return BreachOf(problem, shifts[next],
                        $"{person.Name} has {RulePhrases.Duration(Math.Max(0, rest))} of rest between the shift that ends "
                            + $"{RulePhrases.Time(problem, shifts[next - 1].To)} and the one that starts "
                            + $"{RulePhrases.Time(problem, shifts[next].From)}",
                        problem.HasBegun(shifts[next]));
            }
            foreach (var shift in shifts)
                foreach (var busy in person.Commitments)
                {
                    // A commitment that ends at most JoinMinutes before the shift is one working day with it: no rest is needed
                    // between them, and the rest after that day counts from the shift's end.
                    var (before, after) = (shift.From - busy.To, busy.From - shift.To);
                    if (before >= 0 && before > person.JoinMinutes && before < person.MinRest)
                        yield return BreachOf(problem, shift,
                            $"{person.Name} has {RulePhrases.Duration(before)} of rest between the commitment that ends "
                                + $"{RulePhrases.Time(problem, busy.To)} and the shift that starts "
                                + $"{RulePhrases.Time(problem, shift.From)}",
                            problem.HasBegun(shift));
                    if (after >= 0 && after < person.MinRest)
                        yield return BreachOf(problem, shift,
                            $"{person.Name} has {RulePhrases.Duration(after)} of rest between the shift that ends "
                                + $"{RulePhrases.Time(problem, shift.To)} and the commitment that starts "
                                + $"{RulePhrases.Time(problem, busy.From)}",
                            problem.EndsAtEarliest(shift));
                }
        }
    }

    private Breach BreachOf(Problem problem, ScheduledShift shift, string sentence, bool unavoidable) =>
        new(Id, RulePhrases.Subject(problem, shift),
            $"{sentence}; at least {RulePhrases.Duration(problem.Crew[shift.Person].MinRest)} are required.")
            { IsUnavoidable = unavoidable };
}
