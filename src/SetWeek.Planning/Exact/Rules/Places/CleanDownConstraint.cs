using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Places;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Places;

/// <summary>The constraint of <see cref="CleanDownRule"/> in the exact model.</summary>
internal static class CleanDownConstraint
{
    public static void Post(ExactModel model)
    {
        foreach (var down in model.CleanDowns)
        {
            if (model.Problem.Zones[down.Zone].CleanDown is not { } way || down.Night is not { } night) continue;
            ExactJob[] works = [.. model.Stints
                .Where(job => job.Zone == down.Zone && !job.IsLast && !model.IsNo(job.Nights[night]))];
            var excused = TooLate(model, night, way, works);
            foreach (var work in works)
            {
                if (work.Fixed is not null && down.Fixed is not null) continue;
                if (down.Begun)
                {
                    model.Deny(work.Nights[night]);
                    continue;
                }
                if (!(work.Begun && excused)) model.Implies(work.Nights[night], down.Present);
                if (!model.IsNo(down.Present)) model.Follow(work, down, 0, work.Nights[night]);
            }
            if (!down.Begun) model.Never([down.Present, .. works.Select(work => work.Nights[night].Not())]);
        }
    }

    /// <summary>What has begun there ends so late that no clean-down fits in.</summary>
    private static bool TooLate(ExactModel model, int night, Way way, ExactJob[] works)
    {
        var begun = works.Where(work => work.Begun).ToArray();
        if (begun.Length == 0) return false;
        var free = Math.Max(model.Now, begun.Max(work => work.Fixed!.To));
        return model.Problem.NextSlot(night, free) + way.Minutes > model.Problem.Nights[night].Closes;
    }
}
