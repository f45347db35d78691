using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class LaunchRule : IRule
{
    public string Id => "launch";

    public void Post(ExactModel model)
    {
        if (model.Problem.Launch <= model.Now) return;
        foreach (var (job, mode, _, moments) in model.OpenSlots())
            moments.AtMost(model.Down(model.Problem.Launch) - job.Sizes[mode]);
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var work in schedule.Work)
            if (work.To > problem.Launch)
                yield return new Breach(Id, Say.About(problem, work),
                    $"{Say.Work(problem, work)} ends {Say.At(problem, work.To)}; all work ends by "
                        + $"{Say.At(problem, problem.Launch)} for the launch.")
                    // Once that moment has passed it cannot be met any more.
                    { OnlyFacts = problem.Began(work) || problem.Passed(problem.Launch) };
    }
}
