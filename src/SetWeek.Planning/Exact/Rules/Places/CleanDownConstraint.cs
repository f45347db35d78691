using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Places;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Places;

/// <summary>The constraint of <see cref="CleanDownRule"/> in the exact model.</summary>
internal static class CleanDownConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var down in model.CleanDowns)
        {
            if (model.Problem.Zones[down.Zone].CleanDown is not { } mode || down.Night is not { } night) continue;
            CpActivity[] works = [.. model.Stints
                .Where(activity => activity.Zone == down.Zone && !activity.IsOfFinalTask && !model.IsFixedFalse(activity.InNight[night]))];
            var excused = TooLate(model, night, mode, works);
            foreach (var work in works)
            {
                if (work.FixedWork is not null && down.FixedWork is not null) continue;
                if (down.Begun)
                {
                    model.FixFalse(work.InNight[night]);
                    continue;
                }
                if (!(work.Begun && excused)) model.Implies(work.InNight[night], down.Present);
                if (!model.IsFixedFalse(down.Present)) model.AddPrecedence(work, down, 0, work.InNight[night]);
            }
            if (!down.Begun) model.NotAll([down.Present, .. works.Select(work => work.InNight[night].Not())]);
        }
    }

    /// <summary>What has begun there ends so late that no clean-down fits in.</summary>
    private static bool TooLate(CpWeekModel model, int night, ActivityMode mode, CpActivity[] works)
    {
        var begun = works.Where(work => work.Begun).ToArray();
        if (begun.Length == 0) return false;
        var free = Math.Max(model.Now, begun.Max(work => work.FixedWork!.To));
        return model.Problem.NextSlot(night, free) + mode.Minutes > model.Problem.Nights[night].Closes;
    }
}
