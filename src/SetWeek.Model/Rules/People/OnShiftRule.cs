using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Model.Rules.People;

internal sealed class OnShiftRule : IRule
{
    public RuleId Id => RuleId.OnShift;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var byPersonNight = schedule.Shifts.ToLookup(shift => (shift.Person, shift.Night));
        foreach (var shifts in byPersonNight)
            if (shifts.Count() > 1)
                yield return new Breach(Id, RulePhrases.Subject(problem, shifts.First()),
                    $"{problem.Crew[shifts.Key.Person].Name} has {shifts.Count()} shifts in "
                        + $"{RulePhrases.Night(problem, shifts.Key.Night)}; one is allowed.")
                    { IsUnavoidable = shifts.All(shift => problem.HasEnded(shift)) };
        foreach (var work in schedule.Work)
            foreach (var assignment in work.Assignments)
            {
                var shift = byPersonNight[(assignment.Person, work.Night)].FirstOrDefault();
                if (shift is not null && Covers(shift, work.Span)) continue;
                var about = RulePhrases.Subject(problem, work) with { Person = problem.Crew[assignment.Person].Id };
                yield return new Breach(Id, about, Sentence(problem, work, assignment, shift))
                    { IsUnavoidable = problem.HasBegun(work) && !RemainderIsUncovered(problem, work, shift) };
            }
    }

    private static bool Covers(ScheduledShift shift, Span span) => shift.Span.Contains(span) && shift.Break?.Overlaps(span) != true;

    /// <summary>Running work lies in its people's shifts from now on: in those under way, breaks that have begun apart.</summary>
    private static bool RemainderIsUncovered(Problem problem, ScheduledWork work, ScheduledShift? shift) =>
        problem.Facts is { } facts && work.To > facts.Now && shift is not null && problem.HasBegun(shift) && !problem.HasEnded(shift)
        && !Covers(shift.Break is { } rest && problem.HasBegun(rest) ? shift with { Break = null } : shift, new(facts.Now, work.To));

    private static string Sentence(Problem problem, ScheduledWork work, Assignment assignment, ScheduledShift? shift)
    {
        var at = $"{problem.Crew[assignment.Person].Name} is wanted at {RulePhrases.Work(problem, work)} {RulePhrases.Span(problem, work.Span)}";
        return shift is null ? $"{at} and has no shift that night."
            : shift.Span.Contains(work.Span) ? $"{at}, over the break {RulePhrases.Span(problem, shift.Break!.Value)}."
            : $"{at}, outside the shift {RulePhrases.Span(problem, shift.Span)}.";
    }
}
