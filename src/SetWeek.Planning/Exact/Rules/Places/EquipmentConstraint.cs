using SetWeek.Model.Rules.Places;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Places;

/// <summary>The constraint of <see cref="EquipmentRule"/> in the exact model.</summary>
internal static class EquipmentConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var (equipment, capacity) in model.Problem.EquipmentCapacities.Index())
            model.AddCumulative(capacity, (_, mode) =>
                mode.Equipment.Where(demand => demand.Equipment == equipment).Sum(demand => demand.Count));
    }
}
