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
        foreach (var attendance in model.StoreAttendance)
        {
            var lastEnd = model.CeilingUnit(model.Problem.LastShiftSlot(attendance.Night));
            foreach (var activity in model.Activities)
            {
                var inNight = activity.InNight[attendance.Night];
                if (opening is { } before && !activity.Begun)
                    model.AtLeast(activity.Start - attendance.From, model.CeilingUnit(before), inNight, attendance.Attended);
                if (closing is not { } after) continue;
                // If the work has already begun, the closing time after it is cut off at the latest possible end of a shift. The
                // same holds for a clean-down that such work delays.
                if (activity.Begun)
                {
                    var end = Math.Min(model.CeilingUnit(activity.FixedWork!.To + after), lastEnd);
                    model.AtLeast(attendance.To, end, inNight, attendance.Attended);
                }
                else if (activity.IsCleanDown
                    && model.Problem.Facts?.LateCleanDowns.Contains((attendance.Night, activity.Zone)) == true)
                    model.AtLeast(attendance.To, lastEnd, inNight, attendance.Attended);
                else
                    model.AtLeast(
                        attendance.To - activity.End, model.CeilingUnit(after), inNight, attendance.Attended);
            }
        }
    }
}
