using SetWeek.Domain.PlannerInputs;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>A plan was checked against the facts of that moment and became the one that the store works by.</summary>
/// <param name="InputHash">Of what it was computed from; see <see cref="PlannerInput"/>.</param>
/// <param name="Plan">The whole plan; people by id, in its sentences too.</param>
public sealed record PlanPublished(string PlanId, string InputHash, Plan Plan) : IWeekEvent;
