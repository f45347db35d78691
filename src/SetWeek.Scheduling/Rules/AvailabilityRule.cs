using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class AvailabilityRule : IRule
{
    public string Id => "availability";

    public void Post(ExactModel model)
    {
        foreach (var duty in model.OpenDuties())
        {
            var free = Free(model.Problem.Crew[duty.Person], duty.Night);
            if (duty.Begun is { } begun)
            {
                model.EndsBy(duty, free.Where(span => span.From <= begun.From && begun.From < span.To)
                    .Select(span => span.To).DefaultIfEmpty(begun.From).Max());
                continue;
            }
            var picks = new List<ILiteral>();
            foreach (var span in free)
            {
                var pick = free.Count == 1 ? duty.On : model.Cp.NewBoolVar("");
                model.AtLeast(duty.From, model.Up(span.From), pick);
                model.AtMost(duty.To, model.Down(span.To), pick);
                picks.Add(pick);
            }
            model.Never([duty.On, .. picks.Select(pick => pick.Not())]);
        }
    }

    /// <summary>The entries of a night, commitments taken out.</summary>
    private static List<Span> Free(Person person, int night)
    {
        var free = person.Available[night].ToList();
        foreach (var busy in person.Commitments)
            free = [.. free.SelectMany(span => busy.Overlaps(span)
                ? new[] { span with { To = busy.From }, span with { From = busy.To } }.Where(part => part.Minutes > 0)
                : [span])];
        return [.. free.Distinct()];
    }

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
