using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Model.Rules.People;

internal sealed class AvailabilityRule : IRule
{
    public string Id => "availability";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var shift in schedule.Shifts)
        {
            var person = problem.Crew[shift.Person];
            var inside = false;
            foreach (var entry in person.Available[shift.Night]) inside |= entry.Contains(shift.Span);
            if (!inside)
                yield return Of(problem, shift,
                    $"is outside the times given as available: {Entries(problem, person.Available[shift.Night])}.");
            foreach (var busy in person.Commitments)
                if (busy.Overlaps(shift.Span))
                    yield return Of(problem, shift,
                        $"overlaps a commitment {Say.Span(problem, busy)}.");
        }
    }

    private static string Entries(Problem problem, IReadOnlyList<Span> entries) => entries.Count == 0 ? "none that night"
        : string.Join(", ", entries.Select(entry => $"{Say.Span(problem, entry)}"));

    /// <summary>A begun shift that cannot end sooner is excused.</summary>
    private Breach Of(Problem problem, Shift shift, string fault) =>
        new(Id, Say.About(problem, shift),
            $"{Say.Shift(problem, shift)} {fault}") { OnlyFacts = problem.EndsAsSoonAsItCan(shift) };
}
