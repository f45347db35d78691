using SetWeek.Model.Rules.Places;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Places;

/// <summary>The constraint of <see cref="ZoneClosedRule"/> in the exact model.</summary>
internal static class ZoneClosedConstraint
{
    public static void Post(ExactModel model)
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
}
