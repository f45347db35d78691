using SetWeek.Domain.Plans;
using SetWeek.Model.Json;

namespace SetWeek.Service.Solving;

/// <summary>Reads what the requests for a plan have in common from their bodies.</summary>
internal static class PlanLimitFields
{
    /// <summary>Adds a fault if the body states a time of its own for "now".</summary>
    public static void RefuseNow(this JsonFields json)
    {
        if (json.Optional("now") is null) return;
        json.AddFault("now", "Plans are made for the current time of the service's clock, which no request can move; "
            + "remove this field.");
    }

    /// <summary>
    /// Reads the fields seconds, effort, seed and workers. All may be absent. To give both seconds and effort is a fault.
    /// </summary>
    /// <param name="json">The body.</param>
    /// <param name="most">The most seconds, and the most units of effort, that the operation allows.</param>
    /// <param name="workers">The number of workers unless given.</param>
    public static PlanLimits PlanLimits(
        this JsonFields json, int most, int workers = Domain.Plans.PlanLimits.DefaultWorkers)
    {
        var seconds = json.Optional("seconds")?.Int(1, most);
        var effort = json.Optional("effort")?.Int(1, most);
        if (seconds is not null && effort is not null) json.AddFault("effort", "Give either seconds or effort.");
        return new PlanLimits(seconds, effort,
            json.Int("workers", 1, Domain.Plans.PlanLimits.MostWorkers, otherwise: workers),
            json.Int("seed", 0, int.MaxValue, otherwise: 0));
    }
}
