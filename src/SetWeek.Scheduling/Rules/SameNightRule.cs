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

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule) =>
        from wait in Wait.All(problem, schedule)
        where wait.Link.SameNight && wait.Last.Night != wait.Work.Night
        // The rule lapses once that night is over.
        where !problem.Passed(problem.Nights[wait.Last.Night].Closes)
        select new Breach(Id, Say.About(problem, wait.Work),
            $"{Say.Work(problem, wait.Work)} is in {Say.Night(problem, wait.Work.Night)}, not in "
                + $"{Say.Night(problem, wait.Last.Night)}, where {Say.Task(problem, wait.Before)} leaves it half-secured.")
            { OnlyFacts = problem.Began(wait.Work) };
}
