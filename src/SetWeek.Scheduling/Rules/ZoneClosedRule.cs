using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class ZoneClosedRule : IRule
{
    public string Id => "zone-closed";

    public void Post(ExactModel model)
    {
        foreach (var task in model.Problem.Activities)
        {
            if (task.ClosesZone == 0) continue;
            var closer = model.LastOf(task.Index);
            foreach (var job in model.Jobs)
                if (job.Zone == task.Zone && job.Task?.Index != task.Index) Keep(model, closer, job, task.ClosesZone);
        }
    }

    private static void Keep(ExactModel model, ExactJob closer, ExactJob job, int minutes)
    {
        if (model.IsNo(closer.Present) || model.IsNo(job.Present)) return;
        if (closer.Fixed is { } done)
        {
            foreach (var (_, mode, _, moments) in model.SlotsOf(job))
                moments.Remove(model.Down(done.To) - job.Sizes[mode] + 1, model.Up(done.To + minutes) - 1);
        }
        else if (job.Fixed is { } there)
        {
            foreach (var (_, mode, _, moments) in model.SlotsOf(closer))
                moments.Remove(
                    model.Down(there.From - minutes) + 1 - closer.Sizes[mode], model.Up(there.To) - 1 - closer.Sizes[mode]);
        }
        else
        {
            var before = model.Cp.NewBoolVar("");
            model.AtLeast(closer.End - job.End, 0, before, closer.Present, job.Present);
            model.AtLeast(job.Start - closer.End, model.Up(minutes), before.Not(), closer.Present, job.Present);
        }
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var byStint = schedule.ByStint(problem);
        foreach (var task in problem.Activities)
        {
            if (task.ClosesZone == 0 || byStint[task.LastStint] is not { } last) continue;
            var closed = new Span(last.To, last.To + task.ClosesZone);
            foreach (var work in schedule.Work)
                if (work.Zone == task.Zone && !IsOf(problem, work, task) && work.Span.Overlaps(closed))
                    yield return new Breach(Id, Say.About(problem, work) with { Zone = problem.Zones[task.Zone].Id },
                        $"{Say.Work(problem, work)} runs {Say.Span(problem, work.Span)} in "
                            + $"{problem.Zones[task.Zone].Name}, which {Say.Task(problem, task)} closes until "
                            + $"{Say.At(problem, closed.To)}.")
                        { OnlyFacts = problem.Began(last) && problem.Began(work) };
        }
    }

    private static bool IsOf(Problem problem, Work work, Activity task) =>
        work.Stint is { } stint && problem.Stints[stint].Task.Index == task.Index;
}
