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
                var predecessor = model.LastStintOf(precedence.Predecessor);
                // The rule lapses once the predecessor's night is over.
                var lapsed = predecessor.Begun && model.Problem.Nights[predecessor.FixedWork!.Night].Closes <= model.Now;
                if (!precedence.SameNight || lapsed) continue;
                for (var night = 0; night < model.Problem.Nights.Count; night++)
                    model.NotAll(predecessor.InNight[night], activity.Present, activity.InNight[night].Not());
            }
        }
    }
}
