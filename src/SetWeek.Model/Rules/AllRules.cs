using SetWeek.Model.Plans;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Rules.Form;
using SetWeek.Model.Rules.Order;
using SetWeek.Model.Rules.People;
using SetWeek.Model.Rules.Places;
using SetWeek.Model.Rules.Shifts;

namespace SetWeek.Model.Rules;

/// <summary>The check of every rule.</summary>
internal static class AllRules
{
    /// <summary>Every rule, in the order of <see cref="RuleId"/>.</summary>
    public static IReadOnlyList<IRule> InOrder { get; } = [.. RuleIds.All.Select(Of)];

    /// <summary>
    /// The rules that can be checked on one night alone. Two are missing: whole, which needs all stints of a display, and
    /// same-night, which compares nights.
    /// </summary>
    public static IReadOnlyList<IRule> OfOneNight { get; } =
        [.. InOrder.Where(rule => rule.Id is not (RuleId.Whole or RuleId.SameNight))];

    private static IRule Of(RuleId id) => id switch
    {
        RuleId.Grid => new GridRule(),
        RuleId.Whole => new WholeRule(),
        RuleId.Window => new WindowRule(),
        RuleId.Ban => new BanRule(),
        RuleId.After => new AfterRule(),
        RuleId.Drying => new DryingRule(),
        RuleId.SameNight => new SameNightRule(),
        RuleId.Kit => new KitRule(),
        RuleId.Equipment => new EquipmentRule(),
        RuleId.Skill => new SkillRule(),
        RuleId.OnePlace => new OnePlaceRule(),
        RuleId.ZoneRoom => new ZoneRoomRule(),
        RuleId.ZoneClosed => new ZoneClosedRule(),
        RuleId.CleanDown => new CleanDownRule(),
        RuleId.Last => new LastRule(),
        RuleId.Due => new DueRule(),
        RuleId.Launch => new LaunchRule(),
        RuleId.Availability => new AvailabilityRule(),
        RuleId.OnShift => new OnShiftRule(),
        RuleId.ShiftLength => new ShiftLengthRule(),
        RuleId.Break => new BreakRule(),
        RuleId.Briefing => new BriefingRule(),
        RuleId.Company => new CompanyRule(),
        RuleId.Pin => new PinRule(),
        RuleId.Rest => new RestRule(),
        RuleId.YoungWorker => new YoungWorkerRule(),
        RuleId.Keyholder => new KeyholderRule(),
        RuleId.OpenClose => new OpenCloseRule(),
        RuleId.TwoPerson => new TwoPersonRule(),
        RuleId.Frozen => new FrozenRule(),
    };
}
