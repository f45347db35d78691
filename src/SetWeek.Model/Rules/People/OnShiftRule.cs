using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Model.Rules.People;

internal sealed class OnShiftRule : IRule
{
    public string Id => "on-shift";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var byPersonNight = schedule.Shifts.ToLookup(shift => (shift.Person, shift.Night));
        foreach (var shifts in byPersonNight)
            if (shifts.Count() > 1)
                yield return new Breach(Id, Say.About(problem, shifts.First()),
                    $"{problem.Crew[shifts.Key.Person].Name} has {shifts.Count()} shifts in "
                        + $"{Say.Night(problem, shifts.Key.Night)}; one is allowed.")
                    { OnlyFacts = shifts.All(shift => problem.Ended(shift)) };
        foreach (var work in schedule.Work)
            foreach (var hand in work.People)
            {
                var shift = byPersonNight[(hand.Person, work.Night)].FirstOrDefault();
                if (shift is not null && Holds(shift, work.Span)) continue;
                var about = Say.About(problem, work) with { Person = problem.Crew[hand.Person].Id };
                yield return new Breach(Id, about, Sentence(problem, work, hand, shift))
                    { OnlyFacts = problem.Began(work) && !RunsOn(problem, work, shift) };
            }
    }

    private static bool Holds(Shift shift, Span span) => shift.Span.Contains(span) && shift.Break?.Overlaps(span) != true;

    /// <summary>Running work lies in its people's shifts from now on: in those under way, breaks that have begun apart.</summary>
    private static bool RunsOn(Problem problem, Work work, Shift? shift) =>
        problem.Facts is { } facts && work.To > facts.Now && shift is not null && problem.Began(shift) && !problem.Ended(shift)
        && !Holds(shift.Break is { } rest && problem.Began(rest) ? shift with { Break = null } : shift, new(facts.Now, work.To));

    private static string Sentence(Problem problem, Work work, Hand hand, Shift? shift)
    {
        var at = $"{problem.Crew[hand.Person].Name} is wanted at {Say.Work(problem, work)} {Say.Span(problem, work.Span)}";
        return shift is null ? $"{at} and has no shift that night."
            : shift.Span.Contains(work.Span) ? $"{at}, over the break {Say.Span(problem, shift.Break!.Value)}."
            : $"{at}, outside the shift {Say.Span(problem, shift.Span)}.";
    }
}
