using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Bounds.Benders;

internal static class LimitedModel
{
    public static CpWeekModel Of(Problem problem, int goal, long[] caps, long limit, long[] most, int[][] publishedStints)
    {
        var model = new CpWeekModel(problem);
        var facts = problem.Facts!;
        var published = facts.Published.ShiftsByPersonNight();
        var notice = facts.Now + (problem.Rules.NoticeMinutes ?? -Problem.Never);
        foreach (var shift in model.FreeShifts())
        {
            if (shift.Begun is not null) continue;
            var allowed = most[shift.Night];
            if (!published.TryGetValue((shift.Person, shift.Night), out var before))
            {
                if (allowed < 2) model.FixFalse(shift.Present);
                continue;
            }
            var factor = before.From < notice ? 3 : 1;
            if (allowed < 2 * factor) model.FixTrue(shift.Present);
            if (allowed >= factor) continue;
            if (before.From % model.Unit != 0 || before.To % model.Unit != 0) continue;
            model.Equal(shift.From, model.CeilingUnit(before.From), shift.Present);
            model.Equal(shift.To, model.CeilingUnit(before.To), shift.Present);
        }
        for (var night = 0; night < problem.Nights.Count; night++)
        {
            if (most[night] > 0) continue;
            foreach (var stint in publishedStints[night])
                for (var other = 0; other < problem.Nights.Count; other++)
                    if (other != night)
                    {
                        model.FixFalse(model.Activities[stint].InNight[other]);
                        for (var mode = 0; mode < model.Activities[stint].Modes.Count; mode++)
                            model.FixFalse(model.Activities[stint].InModeAndNight[mode, other]);
                    }
        }
        model.With(AllRules.InOrder);
        var changes = CpSearch.PostGoalsWithCaps(model, goal, caps)[goal];
        model.AtMost(changes.Sum, limit * changes.Divisor);
        return model;
    }
}
