using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class LastRule : IRule
{
    public string Id => "last";

    public void Post(ExactModel model)
    {
        if (model.Problem.LastActivity is not { } last) return;
        var first = model.Jobs[last.FirstStint];
        foreach (var job in model.Jobs)
            if (job.Task?.Index != last.Index) model.Follow(job, first, 0);
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        if (problem.LastActivity is not { } last || schedule.ByStint(problem)[last.FirstStint] is not { } first) yield break;
        foreach (var work in schedule.Work)
        {
            var own = work.Stint is { } stint && problem.Stints[stint].Task.Index == last.Index;
            if (!own && work.To > first.From)
                yield return new Breach(Id, Say.About(problem, work),
                    $"{Say.Task(problem, last)} starts {Say.At(problem, first.From)} and comes last, but "
                        + $"{Say.Work(problem, work)} ends {Say.At(problem, work.To)}.")
                    { OnlyFacts = problem.Began(first) };
        }
    }
}
