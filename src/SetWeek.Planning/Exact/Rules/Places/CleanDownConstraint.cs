using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Places;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Places;

/// <summary>The constraint of <see cref="CleanDownRule"/> in the exact model.</summary>
internal static class CleanDownConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var cleanDown in model.CleanDowns)
        {
            if (model.Problem.Zones[cleanDown.Zone].CleanDown is not { } mode || cleanDown.Night is not { } night) continue;
            CpActivity[] stints = [.. model.Stints.Where(activity => activity.Zone == cleanDown.Zone && !activity.IsOfFinalTask
                && !model.IsFixedFalse(activity.InNight[night]))];
            var excused = IsTooLate(model, night, mode, stints);
            foreach (var stint in stints)
            {
                if (stint.FixedWork is not null && cleanDown.FixedWork is not null) continue;
                // Nothing is worked in a zone after its clean-down of the night has begun.
                if (cleanDown.Begun)
                {
                    model.FixFalse(stint.InNight[night]);
                    continue;
                }
                if (!(stint.Begun && excused)) model.Implies(stint.InNight[night], cleanDown.Present);
                if (!model.IsFixedFalse(cleanDown.Present)) model.AddPrecedence(stint, cleanDown, 0, stint.InNight[night]);
            }
            if (!cleanDown.Begun) model.NotAll([cleanDown.Present, .. stints.Select(stint => stint.InNight[night].Not())]);
        }
    }

    /// <summary>Begun work in the zone ends so late that no clean-down fits before the night closes.</summary>
    private static bool IsTooLate(CpWeekModel model, int night, ActivityMode mode, CpActivity[] stints)
    {
        var begun = stints.Where(stint => stint.Begun).ToArray();
        if (begun.Length == 0) return false;
        var earliest = Math.Max(model.Now, begun.Max(stint => stint.FixedWork!.To));
        return model.Problem.NextSlot(night, earliest) + mode.Minutes > model.Problem.Nights[night].Closes;
    }
}
