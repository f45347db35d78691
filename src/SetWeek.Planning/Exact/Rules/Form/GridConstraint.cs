using SetWeek.Model.Rules.Form;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Form;

/// <summary>The constraint of <see cref="GridRule"/> in the exact model.</summary>
internal static class GridConstraint
{
    /// <summary>Shifts and breaks are counted in steps of their grid from the start; units of work may be finer.</summary>
    public static void Post(CpWeekModel model)
    {
        if (model.GridStep > 1)
            foreach (var slots in model.AllStartDomains()) slots.Moments.SetStride(model.GridStep);
    }
}
