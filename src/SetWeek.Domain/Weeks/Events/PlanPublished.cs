using SetWeek.Domain.PlannerInputs;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>A plan was checked against the state of the week and published: the store works by it.</summary>
/// <param name="InputHash">The hash of its <see cref="PlannerInput"/>.</param>
/// <param name="Plan">The whole plan, with ids in place of names, also in its sentences.</param>
public sealed record PlanPublished(string PlanId, string InputHash, Plan Plan) : IWeekEvent;
