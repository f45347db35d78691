using SetWeek.Domain.PlannerInputs;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>A plan was checked against the state of the week and published: the store works by it.</summary>
/// <param name="InputHash">The hash of its <see cref="PlannerInput"/>.</param>
/// <param name="Plan">The whole plan, with ids in place of names, also in its sentences.</param>
public sealed record PlanPublished(string PlanId, string InputHash, Plan Plan) : IWeekEvent;

/// <summary>
/// With the event before this one, the published plan no longer holds: it breaks a rule. It stays published until another plan is.
/// </summary>
/// <param name="Task">The first stint that breaks the rule; null for a clean-down, or if the rule is about no work.</param>
/// <param name="CleanDown">The zone whose clean-down breaks the rule.</param>
/// <param name="Sentence">How the rule is broken, with a mark in place of each name: "{person:c1}".</param>
/// <param name="By">The report from the floor with which it no longer holds; null if it was a decision.</param>
public sealed record PlanBroken(
    string PlanId, RuleId Rule, string? Task, int? Stint, string? CleanDown, string? Night, string Sentence, string? By)
    : IWeekEvent;

/// <summary>With the event before this one, the published plan holds again.</summary>
public sealed record PlanHoldsAgain(string PlanId) : IWeekEvent;
