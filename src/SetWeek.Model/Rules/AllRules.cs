using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Rules.Form;
using SetWeek.Model.Rules.Order;
using SetWeek.Model.Rules.People;
using SetWeek.Model.Rules.Places;
using SetWeek.Model.Rules.Shifts;

namespace SetWeek.Model.Rules;

/// <summary>The list that a new rule adds its line to.</summary>
internal static class AllRules
{
    public static IReadOnlyList<IRule> InOrder { get; } =
    [
        new GridRule(),
        new WholeRule(),
        new WindowRule(),
        new BanRule(),
        new AfterRule(),
        new DryingRule(),
        new SameNightRule(),
        new KitRule(),
        new EquipmentRule(),
        new SkillRule(),
        new OnePlaceRule(),
        new ZoneRoomRule(),
        new ZoneClosedRule(),
        new CleanDownRule(),
        new LastRule(),
        new DueRule(),
        new LaunchRule(),
        new AvailabilityRule(),
        new OnShiftRule(),
        new ShiftLengthRule(),
        new BreakRule(),
        new RestRule(),
        new YoungWorkerRule(),
        new KeyholderRule(),
        new OpenCloseRule(),
        new TwoPersonRule(),
        new FrozenRule(),
    ];

    /// <summary>
    /// Those of one night by itself, the others being away: all but what ties a stint to its display or to another night.
    /// </summary>
    public static IReadOnlyList<IRule> OfOneNight { get; } = [.. InOrder.Where(rule => rule.Id is not ("whole" or "same-night"))];
}
