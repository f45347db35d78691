using SetWeek.Model.Rules.Places;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Places;

/// <summary>The constraint of <see cref="EquipmentRule"/> in the exact model.</summary>
internal static class EquipmentConstraint
{
    public static void Post(CpWeekModel model)
    {
        for (var piece = 0; piece < model.Problem.EquipmentCapacities.Count; piece++)
        {
            var equipment = piece;
            model.AddCumulative(model.Problem.EquipmentCapacities[piece], (_, mode) =>
                mode.Equipment.Where(use => use.Equipment == equipment).Sum(use => use.Count));
        }
    }
}
