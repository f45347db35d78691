using SetWeek.Model.Rules.Order;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Order;

/// <summary>The constraint of <see cref="SameNightRule"/> in the exact model.</summary>
internal static class SameNightConstraint
{
    public static void Post(ExactModel model)
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
}
