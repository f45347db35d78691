using SetWeek.Model.Goals;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Bounds.Benders;

/// <summary>
/// The exact model of the whole week with at most so many changes, after cost-based domain filtering (Focacci, Lodi and Milano
/// 1999, from memory). The nights need some changes at least, which leaves only so many for each other night. A published shift
/// whose change costs more than that stays as it is, and so does a published stint in its night.
/// </summary>
internal static class CostFilteredModel
{
    /// <param name="problem">The re-plan.</param>
    /// <param name="goal">Index of the goal changes.</param>
    /// <param name="caps">Largest value allowed of each goal above it.</param>
    /// <param name="limit">Largest number of changes.</param>
    /// <param name="mostByNight">By night: the most changes that a plan within the limit has there.</param>
    /// <param name="publishedStints">By night: its published stints that have not begun.</param>
    public static CpWeekModel Of(
        Problem problem, int goal, long[] caps, long limit, long[] mostByNight, int[][] publishedStints)
    {
        var model = new CpWeekModel(problem);
        FilterShifts(model, mostByNight);
        foreach (var night in problem.Nights.Where(night => mostByNight[night.Index] < 1))
            foreach (var stint in publishedStints[night.Index]) KeepInNight(model, model.Activities[stint], night.Index);
        model.With(AllRules.InOrder);
        var changes = CpSearch.PostGoalsWithCaps(model, goal, caps)[goal];
        model.AtMost(changes.Sum, limit * changes.Divisor);
        return model;
    }

    private static void FilterShifts(CpWeekModel model, long[] mostByNight)
    {
        var facts = model.Problem.Facts!;
        var published = facts.Published.ShiftsByPersonNight();
        var noticeEnd = ChangesGoal.NoticeEnd(model.Problem, facts);
        foreach (var shift in model.FreeShifts().Where(shift => shift.Begun is null))
        {
            var most = mostByNight[shift.Night];
            if (!published.TryGetValue((shift.Person, shift.Night), out var before))
            {
                if (most < ChangesGoal.PresenceWeight) model.FixFalse(shift.Present);
                continue;
            }
            var factor = ChangesGoal.FactorAt(before.From, noticeEnd);
            if (most < ChangesGoal.PresenceWeight * factor) model.FixTrue(shift.Present);
            if (most >= ChangesGoal.MoveWeight * factor || before.From % model.Unit != 0 || before.To % model.Unit != 0) continue;
            model.Equal(shift.From, model.CeilingUnit(before.From), shift.Present);
            model.Equal(shift.To, model.CeilingUnit(before.To), shift.Present);
        }
    }

    private static void KeepInNight(CpWeekModel model, CpActivity activity, int night)
    {
        for (var other = 0; other < model.Problem.Nights.Count; other++)
        {
            if (other == night) continue;
            model.FixFalse(activity.InNight[other]);
            for (var mode = 0; mode < activity.Modes.Count; mode++) model.FixFalse(activity.InModeAndNight[mode, other]);
        }
    }
}
