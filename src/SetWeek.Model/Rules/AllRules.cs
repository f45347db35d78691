using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Rules.Form;
using SetWeek.Model.Rules.Order;
using SetWeek.Model.Rules.People;
using SetWeek.Model.Rules.Places;
using SetWeek.Model.Rules.Shifts;

namespace SetWeek.Model.Rules;

/// <summary>Every rule. A new rule is added to this list.</summary>
internal static class AllRules
{
    /// <summary>All rules, in the order in which breaches are listed.</summary>
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
    /// The rules that can be checked on one night alone. Two are missing: whole, which needs all stints of a display, and
    /// same-night, which compares nights.
    /// </summary>
    public static IReadOnlyList<IRule> OfOneNight { get; } = [.. InOrder.Where(rule => rule.Id is not ("whole" or "same-night"))];
}
