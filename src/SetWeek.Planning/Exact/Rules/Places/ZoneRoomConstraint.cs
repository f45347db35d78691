using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Places;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Places;

/// <summary>The constraint of <see cref="ZoneRoomRule"/> in the exact model.</summary>
internal static class ZoneRoomConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var zone in model.Problem.Zones)
            if (zone.MaxPeople < Problem.Never)
                model.AddCumulative(zone.MaxPeople, (activity, mode) => activity.Zone == zone.Index ? mode.People : 0);
    }
}
