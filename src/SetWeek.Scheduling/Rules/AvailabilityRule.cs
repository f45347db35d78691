using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class AvailabilityRule : IRule
{
    public string Id => "availability";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var shift in schedule.Shifts)
        {
            var person = problem.Crew[shift.Person];
            var times = $"{person.Name}'s shift {Say.At(problem, shift.From)} to {Say.At(problem, shift.To)}";
            if (!person.Available[shift.Night].Any(entry => entry.Contains(shift.Span)))
                yield return Of(problem, shift, $"{times} is outside the times given as available: {Entries(problem, person.Available[shift.Night])}.");
            foreach (var busy in person.Commitments)
                if (busy.Overlaps(shift.Span))
                    yield return Of(problem, shift, $"{times} overlaps a commitment {Say.At(problem, busy.From)} to {Say.At(problem, busy.To)}.");
        }
    }

    private static string Entries(Problem problem, IReadOnlyList<Span> entries) => entries.Count == 0 ? "none that night"
        : string.Join(", ", entries.Select(entry => $"{Say.At(problem, entry.From)} to {Say.At(problem, entry.To)}"));

    /// <summary>A begun shift that cannot end sooner is excused.</summary>
    private Breach Of(Problem problem, Shift shift, string sentence) =>
        new(Id, Say.About(problem, shift), sentence) { OnlyFacts = problem.EndsAsSoonAsItCan(shift) };
}
