using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Places;

internal sealed class WindowRule : IRule
{
    public string Id => "window";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var work in schedule.Work)
            if (!problem.Nights[work.Night].Span.Contains(work.Span))
                yield return new Breach(Id, Say.About(problem, work),
                    $"{Say.Work(problem, work)} runs {Say.Span(problem, work.Span)}; the night "
                        + $"is {Hours(problem, work.Night)}.")
                    { OnlyFacts = problem.Began(work) };
        foreach (var shift in schedule.Shifts)
        {
            var (early, late) = (shift.From < problem.Nights[shift.Night].Opens, shift.To > problem.Nights[shift.Night].Closes);
            if (early || late)
                yield return new Breach(Id, Say.About(problem, shift),
                    $"{Say.Shift(problem, shift)} is outside its night; the night is {Hours(problem, shift.Night)}.")
                    { OnlyFacts = (!early || problem.Began(shift)) && (!late || problem.EndsAsSoonAsItCan(shift)) };
        }
    }

    private static string Hours(Problem problem, int night) =>
        Say.Span(problem, problem.Nights[night].Span);
}
