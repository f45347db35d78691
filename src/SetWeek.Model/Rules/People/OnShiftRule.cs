using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Model.Rules.People;

/// <summary>
/// The on-shift rule: a person has at most one shift a night, and works only within it and outside its break. Running work
/// must lie in a begun shift from now on.
/// </summary>
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
                var subject = RulePhrases.Subject(problem, work) with { Person = problem.Crew[assignment.Person].Id };
                yield return new Breach(Id, subject, Sentence(problem, work, assignment, shift))
                    { IsUnavoidable = problem.HasBegun(work) && !RemainderIsUncovered(problem, work, shift) };
            }
    }

    private static bool Covers(ScheduledShift shift, Span span) =>
        shift.Span.Contains(span) && shift.Break?.Overlaps(span) != true;

    /// <summary>
    /// True if the shift is under way and does not cover the rest of running work, from now on. A break that has begun cannot
    /// move, so it does not count.
    /// </summary>
    private static bool RemainderIsUncovered(Problem problem, ScheduledWork work, ScheduledShift? shift) =>
        problem.Facts is { } facts && work.To > facts.Now
        && shift is not null && problem.HasBegun(shift) && !problem.HasEnded(shift)
        && !Covers(
            shift.Break is { } rest && problem.HasBegun(rest) ? shift with { Break = null } : shift, new(facts.Now, work.To));

    private static string Sentence(Problem problem, ScheduledWork work, Assignment assignment, ScheduledShift? shift)
    {
        var start = $"{problem.Crew[assignment.Person].Name} is assigned to {RulePhrases.Work(problem, work)} "
            + $"{RulePhrases.Span(problem, work.Span)}";
        return shift is null ? $"{start}, but has no shift that night."
            : shift.Span.Contains(work.Span) ? $"{start}, during the break {RulePhrases.Span(problem, shift.Break!.Value)}."
            : $"{start}, outside the shift {RulePhrases.Span(problem, shift.Span)}.";
    }
}
