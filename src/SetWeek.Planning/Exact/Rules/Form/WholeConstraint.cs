using SetWeek.Model.Rules.Form;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Form;

/// <summary>The constraint of <see cref="WholeRule"/> in the exact model.</summary>
internal static class WholeConstraint
{
    public static void Post(ExactModel model)
    {
        foreach (var job in model.Stints)
        {
            if (job.Begun) continue;
            model.Same(job.Present, model.Placed[job.Task!.Display]);
            if (job.Stint!.Number > 1) model.Follow(model.Jobs[job.Index - 1], job, 0);
        }
        foreach (var display in model.Problem.Displays)
        {
            if (display.InsteadOf is not null) continue;
            var own = model.Placed[display.Index];
            if (display.Alternate is not { } alternate)
            {
                if (display.Must) model.Demand(own);
                continue;
            }
            var other = model.Placed[alternate];
            if (!(model.Stays(display.Index) && model.Stays(alternate))) model.Never(own, other);
            // An alternate without tasks needs no work: it stands wherever its display does not.
            if (display.Must || model.Problem.Displays[alternate].Tasks.Count == 0) model.Never(own.Not(), other.Not());
        }
    }
}
