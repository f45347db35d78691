using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Model.Problems;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="ChangesGoal"/> as an expression of the exact model.</summary>
internal static class ChangesObjective
{
    public static GoalExpression Post(CpWeekModel model)
    {
        var sum = LinearExpr.NewBuilder(64);
        if (model.Problem.Facts is not { } facts) return sum;
        var old = facts.Published.ShiftsByPersonNight();
        foreach (var shift in model.AllShifts)
        {
            var was = old.GetValueOrDefault((shift.Person, shift.Night));
            if (was is not null && was.To <= facts.Now) continue;
            AddShiftChange(model, facts, shift, was, sum);
        }
        var before = facts.Published.WorkByStint(model.Problem);
        foreach (var activity in model.Stints)
            if (before[activity.Index] is { } one) sum.Add(activity.Present).AddTerm(activity.InNight[one.Night], -1);
        return sum;
    }

    /// <summary>A change weighs three times where the old or the new shift starts before the notice is up.</summary>
    internal static void AddShiftChange(CpWeekModel model, ReplanFacts facts, CpShift shift, ScheduledShift? was, LinearExprBuilder sum)
    {
        var notice = model.Problem.Rules.NoticeMinutes is { } minutes ? facts.Now + minutes : -Problem.Never;
        var near = was is not null && was.From < notice;
        var changed = shift.Present;
        if (was is not null)
        {
            sum.Add(near ? 6 : 2).AddTerm(shift.Present, near ? -6 : -2);
            changed = model.Cp.NewBoolVar("");
            var onUnit = was.From % model.Unit == 0 && was.To % model.Unit == 0;
            if (!onUnit) model.Implies(shift.Present, changed);
            else
            {
                model.Equal(shift.From, model.CeilingUnit(was.From), shift.Present, changed.Not());
                model.Equal(shift.To, model.CeilingUnit(was.To), shift.Present, changed.Not());
            }
        }
        var weight = was is null ? 2 : 1;
        sum.AddTerm(changed, near ? 3 * weight : weight);
        if (near || notice <= model.Problem.Nights[shift.Night].Opens) return;
        var soon = model.Cp.NewBoolVar("");
        model.AtLeast(shift.From, model.CeilingUnit(notice), shift.Present, changed, soon.Not());
        sum.AddTerm(soon, 2 * weight);
    }
}
