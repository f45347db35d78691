using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Places;

/// <summary>The window rule: work and shifts lie between the opens and the closes of their night.</summary>
internal sealed class WindowRule : IRule
{
    public RuleId Id => RuleId.Window;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var work in schedule.Work)
            if (!problem.Nights[work.Night].Span.Contains(work.Span))
                yield return new Breach(Id, RulePhrases.Subject(problem, work),
                    $"{RulePhrases.Work(problem, work)} runs {RulePhrases.Span(problem, work.Span)}; the night "
                        + $"is {Hours(problem, work.Night)}.")
                    { IsUnavoidable = problem.HasBegun(work) };
        foreach (var shift in schedule.Shifts)
        {
            var (early, late) = (shift.From < problem.Nights[shift.Night].Opens, shift.To > problem.Nights[shift.Night].Closes);
            if (early || late)
                yield return new Breach(Id, RulePhrases.Subject(problem, shift),
                    $"{RulePhrases.Shift(problem, shift)} is outside its night; the night is {Hours(problem, shift.Night)}.")
                    { IsUnavoidable = (!early || problem.HasBegun(shift)) && (!late || problem.EndsAtEarliest(shift)) };
        }
    }

    private static string Hours(Problem problem, int night) =>
        RulePhrases.Span(problem, problem.Nights[night].Span);
}
