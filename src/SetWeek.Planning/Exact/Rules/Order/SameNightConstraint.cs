using SetWeek.Model.Rules.Order;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Order;

/// <summary>The constraint of <see cref="SameNightRule"/> in the exact model.</summary>
internal static class SameNightConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var activity in model.Stints)
        {
            if (activity.Begun) continue;
            foreach (var precedence in activity.Task!.Precedences)
            {
                var before = model.LastStintOf(precedence.Predecessor);
                if (!precedence.SameNight || (before.Begun && model.Problem.Nights[before.FixedWork!.Night].Closes <= model.Now)) continue;
                for (var night = 0; night < model.Problem.Nights.Count; night++)
                    model.NotAll(before.InNight[night], activity.Present, activity.InNight[night].Not());
            }
        }
    }
}
