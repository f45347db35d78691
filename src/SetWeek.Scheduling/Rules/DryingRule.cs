using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class DryingRule : IRule
{
    public string Id => "drying";

    public void Post(ExactModel model)
    {
        foreach (var job in model.Stints)
            foreach (var link in job.Task!.After)
                if (link.DryMinutes > 0) model.Follow(model.LastOf(link.Task), job, link.DryMinutes);
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
                // A start before the end itself is for the after rule to name.
                if (byStint[before.LastStint] is { } last && work.From >= last.To && work.From < last.To + link.DryMinutes)
                    yield return new Breach(Id, Say.About(problem, work),
                        $"{Say.Work(problem, work)} starts {Say.At(problem, work.From)}, before {Say.Task(problem, before)} "
                            + $"is dry at {Say.At(problem, last.To + link.DryMinutes)}.")
                        { OnlyFacts = problem.Began(work) };
            }
        }
    }
}
