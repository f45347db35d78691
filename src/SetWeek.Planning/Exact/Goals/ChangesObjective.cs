using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Model.Problems;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="ChangesGoal"/> as an expression of the exact model.</summary>
internal static class ChangesObjective
{
    private const int ExpectedTerms = 64;

    public static GoalExpression Post(CpWeekModel model)
    {
        var sum = LinearExpr.NewBuilder(ExpectedTerms);
        if (model.Problem.Facts is not { } facts) return sum;
        var publishedShifts = facts.Published.ShiftsByPersonNight();
        foreach (var shift in model.AllShifts)
        {
            var published = publishedShifts.GetValueOrDefault((shift.Person, shift.Night));
            if (published is not null && published.To <= facts.Now) continue;
            AddShiftChange(model, facts, shift, published, sum);
        }
        var publishedWork = facts.Published.WorkByStint(model.Problem);
        foreach (var activity in model.Stints)
            if (publishedWork[activity.Index] is { } published)
                sum.Add(activity.Present).AddTerm(activity.InNight[published.Night], -1);
        return sum;
    }

    /// <summary>
    /// Adds the changes of one shift. Their weight is tripled where the published or the new shift starts before the end of the
    /// notice period.
    /// </summary>
    internal static void AddShiftChange(
        CpWeekModel model, ReplanFacts facts, CpShift shift, ScheduledShift? published, LinearExprBuilder sum)
    {
        var noticeEnd = ChangesGoal.NoticeEnd(model.Problem, facts);
        var publishedAtShortNotice = published is not null && published.From < noticeEnd;
        // True where the shift is present and not as published.
        var changed = shift.Present;
        if (published is not null)
        {
            var dropped = publishedAtShortNotice ? ChangesGoal.ShortNoticeFactor * ChangesGoal.PresenceWeight
                : ChangesGoal.PresenceWeight;
            sum.Add(dropped).AddTerm(shift.Present, -dropped);
            changed = model.Cp.NewBoolVar("");
            var onUnit = published.From % model.Unit == 0 && published.To % model.Unit == 0;
            if (!onUnit) model.Implies(shift.Present, changed);
            else
            {
                model.Equal(shift.From, model.CeilingUnit(published.From), shift.Present, changed.Not());
                model.Equal(shift.To, model.CeilingUnit(published.To), shift.Present, changed.Not());
            }
        }
        var weight = published is null ? ChangesGoal.PresenceWeight : ChangesGoal.MoveWeight;
        sum.AddTerm(changed, publishedAtShortNotice ? ChangesGoal.ShortNoticeFactor * weight : weight);
        if (publishedAtShortNotice || noticeEnd <= model.Problem.Nights[shift.Night].Opens) return;
        // The new shift may start inside the notice period although the published one does not.
        var newAtShortNotice = model.Cp.NewBoolVar("");
        model.AtLeast(shift.From, model.CeilingUnit(noticeEnd), shift.Present, changed, newAtShortNotice.Not());
        sum.AddTerm(newAtShortNotice, (ChangesGoal.ShortNoticeFactor - 1) * weight);
    }
}
