using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class WindowRule : IRule
{
    public string Id => "window";

    public void Post(ExactModel model)
    {
        foreach (var (job, mode, night, moments) in model.OpenSlots())
            moments.AtMost(model.Down(model.Problem.Nights[night].Closes) - job.Sizes[mode]);
        foreach (var duty in model.OpenDuties()) model.EndsBy(duty, model.Problem.Nights[duty.Night].Closes);
    }

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
