using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class SameNightRule : IRule
{
    public string Id => "same-night";

    public void Post(ExactModel model)
    {
        foreach (var job in model.Stints)
        {
            if (job.Begun) continue;
            foreach (var link in job.Task!.After)
            {
                var before = model.LastOf(link.Task);
                if (!link.SameNight || (before.Begun && model.Problem.Nights[before.Fixed!.Night].Closes <= model.Now)) continue;
                for (var night = 0; night < model.Problem.Nights.Count; night++)
                    model.Never(before.Nights[night], job.Present, job.Nights[night].Not());
            }
        }
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
                if (!link.SameNight || byStint[before.LastStint] is not { } last || last.Night == work.Night) continue;
                // The rule lapses once that night is over.
                if (problem.Passed(problem.Nights[last.Night].Closes)) continue;
                yield return new Breach(Id, Say.About(problem, work),
                    $"{Say.Work(problem, work)} is in night {problem.Nights[work.Night].Id}, not in "
                        + $"{problem.Nights[last.Night].Id}, where {Say.Task(problem, before)} leaves it half-secured.")
                    { OnlyFacts = problem.Began(work) };
            }
        }
    }
}
