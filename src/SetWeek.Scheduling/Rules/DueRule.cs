using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class DueRule : IRule
{
    public string Id => "due";

    public void Post(ExactModel model)
    {
        foreach (var (job, mode, _, moments) in model.OpenSlots())
            if (job.Stint is { IsLast: true, Task.Due: var due } && due < Problem.Never && due > model.Now)
                moments.AtMost(model.Down(due) - job.Sizes[mode]);
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var byStint = schedule.ByStint(problem);
        foreach (var task in problem.Activities)
            if (byStint[task.LastStint] is { } last && last.To > task.Due)
                yield return new Breach(Id, Say.About(problem, last),
                    $"{Say.Work(problem, last)} ends {Say.At(problem, last.To)}, after it is due at {Say.At(problem, task.Due)}.")
                    // A due that has passed cannot be met any more.
                    { OnlyFacts = problem.Began(last) || problem.Passed(task.Due) };
    }
}
