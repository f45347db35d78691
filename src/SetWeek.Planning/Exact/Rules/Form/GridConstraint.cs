using SetWeek.Model.Rules.Form;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Form;

/// <summary>The constraint of <see cref="GridRule"/> in the exact model.</summary>
internal static class GridConstraint
{
    /// <summary>
    /// Restricts starts of work to the grid where the model's unit is finer. Shifts and breaks have variables in steps of their
    /// grid already.
    /// </summary>
    public static void Post(CpWeekModel model)
    {
        if (model.GridStep > 1)
            foreach (var (_, _, _, starts) in model.AllStartDomains()) starts.SetStride(model.GridStep);
    }
}
