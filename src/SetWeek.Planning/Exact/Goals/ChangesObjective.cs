using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Model.Problems;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="ChangesGoal"/> as an expression of the exact model.</summary>
internal static class ChangesObjective
{
    public static GoalTerm Post(ExactModel model)
    {
        var sum = LinearExpr.NewBuilder(64);
        if (model.Problem.Facts is not { } facts) return sum;
        var old = facts.Published.ShiftsByPersonNight();
        foreach (var duty in model.AllDuties)
        {
            var was = old.GetValueOrDefault((duty.Person, duty.Night));
            if (was is not null && was.To <= facts.Now) continue;
            AddShift(model, facts, duty, was, sum);
        }
        var before = facts.Published.ByStint(model.Problem);
        foreach (var job in model.Stints)
            if (before[job.Index] is { } one) sum.Add(job.Present).AddTerm(job.Nights[one.Night], -1);
        return sum;
    }

    /// <summary>A change weighs three times where the old or the new shift starts before the notice is up.</summary>
    internal static void AddShift(ExactModel model, Facts facts, ExactDuty duty, Shift? was, LinearExprBuilder sum)
    {
        var notice = model.Problem.Rules.NoticeMinutes is { } minutes ? facts.Now + minutes : -Problem.Never;
        var near = was is not null && was.From < notice;
        var changed = duty.On;
        if (was is not null)
        {
            sum.Add(near ? 6 : 2).AddTerm(duty.On, near ? -6 : -2);
            changed = model.Cp.NewBoolVar("");
            var onUnit = was.From % model.Unit == 0 && was.To % model.Unit == 0;
            if (!onUnit) model.Implies(duty.On, changed);
            else
            {
                model.Equal(duty.From, model.Up(was.From), duty.On, changed.Not());
                model.Equal(duty.To, model.Up(was.To), duty.On, changed.Not());
            }
        }
        var weight = was is null ? 2 : 1;
        sum.AddTerm(changed, near ? 3 * weight : weight);
        if (near || notice <= model.Problem.Nights[duty.Night].Opens) return;
        var soon = model.Cp.NewBoolVar("");
        model.AtLeast(duty.From, model.Up(notice), duty.On, changed, soon.Not());
        sum.AddTerm(soon, 2 * weight);
    }
}
