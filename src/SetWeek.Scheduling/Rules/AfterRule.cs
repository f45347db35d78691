using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class AfterRule : IRule
{
    public string Id => "after";

    public void Post(ExactModel model)
    {
        foreach (var job in model.Stints)
            foreach (var link in job.Task!.After) model.Follow(model.LastOf(link.Task), job, 0);
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var byStint = schedule.ByStint(problem);
        foreach (var work in byStint)
        {
            if (work is null) continue;
            foreach (var link in problem.Stints[work.Stint!.Value].Task.After)
            {
                var before = problem.Activities[link.Task];
                if (byStint[before.LastStint] is { } last && work.From < last.To)
                    yield return new Breach(Id, Say.About(problem, work),
                        $"{Say.Work(problem, work)} starts {Say.At(problem, work.From)}, before {Say.Task(problem, before)} "
                            + $"ends at {Say.At(problem, last.To)}.")
                        { OnlyFacts = problem.Began(work) };
            }
        }
    }
}
