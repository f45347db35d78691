using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Model.Rules.People;

/// <summary>
/// The availability rule: a shift lies within one entry of the person's availability for that night and overlaps no
/// commitment.
/// </summary>
internal sealed class AvailabilityRule : IRule
{
    public RuleId Id => RuleId.Availability;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var shift in schedule.Shifts)
        {
            var person = problem.Crew[shift.Person];
            var inside = false;
            foreach (var entry in person.Available[shift.Night]) inside |= entry.Contains(shift.Span);
            if (!inside)
                yield return BreachOf(problem, shift,
                    $"is outside the available times: {Entries(problem, person.Available[shift.Night])}.");
            foreach (var busy in person.Commitments)
                if (busy.Overlaps(shift.Span))
                    yield return BreachOf(problem, shift,
                        $"overlaps a commitment {RulePhrases.Span(problem, busy)}.");
        }
    }

    private static string Entries(Problem problem, IReadOnlyList<Span> entries) => entries.Count == 0 ? "none that night"
        : string.Join(", ", entries.Select(entry => $"{RulePhrases.Span(problem, entry)}"));

    /// <summary>Unavoidable if the shift has begun and cannot end earlier.</summary>
    private Breach BreachOf(Problem problem, ScheduledShift shift, string fault) =>
        new(Id, RulePhrases.Subject(problem, shift),
            $"{RulePhrases.Shift(problem, shift)} {fault}") { IsUnavoidable = problem.EndsAtEarliest(shift) };
}
