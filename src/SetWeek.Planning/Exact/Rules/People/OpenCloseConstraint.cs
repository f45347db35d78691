using SetWeek.Model.Rules.People;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.People;

/// <summary>The constraint of <see cref="OpenCloseRule"/> in the exact model.</summary>
internal static class OpenCloseConstraint
{
    public static void Post(CpWeekModel model)
    {
        if (!model.Problem.Rules.KeyholderPresent) return;
        var (opening, closing) = (model.Problem.Rules.OpeningMinutes, model.Problem.Rules.ClosingMinutes);
        foreach (var lead in model.StoreAttendance)
        {
            var last = model.Problem.LastShiftSlot(lead.Night);
            foreach (var activity in model.Activities)
            {
                var then = activity.InNight[lead.Night];
                if (opening is { } before && !activity.Begun)
                    model.AtLeast(activity.Start - lead.From, model.CeilingUnit(before), then, lead.Attended);
                if (closing is not { } after) continue;
                // After begun work, and a clean-down that it makes late, the keyholder stays as long as the night has room.
                if (activity.Begun) model.AtLeast(lead.To, model.CeilingUnit(Math.Min(activity.FixedWork!.To + after, last)), then, lead.Attended);
                else if (activity.IsCleanDown && model.Problem.Facts?.LateCleanDowns.Contains((lead.Night, activity.Zone)) == true)
                    model.AtLeast(lead.To, model.CeilingUnit(last), then, lead.Attended);
                else model.AtLeast(lead.To - activity.End, model.CeilingUnit(after), then, lead.Attended);
            }
        }
    }
}
