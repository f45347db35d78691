using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Places;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Places;

/// <summary>The constraint of <see cref="ZoneRoomRule"/> in the exact model.</summary>
internal static class ZoneRoomConstraint
{
    public static void Post(ExactModel model)
    {
        foreach (var zone in model.Problem.Zones)
            if (zone.MaxPeople < Problem.Never)
                model.Share(zone.MaxPeople, (job, way) => job.Zone == zone.Index ? way.People : 0);
    }
}
