using SetWeek.Model.Rules.Places;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Places;

/// <summary>The constraint of <see cref="WindowRule"/> in the exact model.</summary>
internal static class WindowConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var (activity, mode, night, starts) in model.AllStartDomains())
            starts.AtMost(model.FloorUnit(model.Problem.Nights[night].Closes) - activity.Sizes[mode]);
        foreach (var shift in model.FreeShifts()) model.LimitEnd(shift, model.Problem.Nights[shift.Night].Closes);
    }
}
