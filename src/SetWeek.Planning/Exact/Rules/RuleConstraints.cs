using SetWeek.Model.Plans;
using SetWeek.Planning.Exact.Rules.Form;
using SetWeek.Planning.Exact.Rules.Order;
using SetWeek.Planning.Exact.Rules.People;
using SetWeek.Planning.Exact.Rules.Places;
using SetWeek.Planning.Exact.Rules.Shifts;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules;

/// <summary>Maps each rule to the constraint that the exact model posts for it.</summary>
internal static class RuleConstraints
{
    /// <summary>The method that posts the constraint of a rule to a model.</summary>
    public static Action<CpWeekModel> Of(RuleId rule) => rule switch
    {
        RuleId.Grid => GridConstraint.Post,
        RuleId.Whole => WholeConstraint.Post,
        RuleId.Window => WindowConstraint.Post,
        RuleId.Ban => BanConstraint.Post,
        RuleId.After => AfterConstraint.Post,
        RuleId.Drying => DryingConstraint.Post,
        RuleId.SameNight => SameNightConstraint.Post,
        RuleId.Kit => KitConstraint.Post,
        RuleId.Equipment => EquipmentConstraint.Post,
        RuleId.Skill => SkillConstraint.Post,
        RuleId.OnePlace => OnePlaceConstraint.Post,
        RuleId.ZoneRoom => ZoneRoomConstraint.Post,
        RuleId.ZoneClosed => ZoneClosedConstraint.Post,
        RuleId.CleanDown => CleanDownConstraint.Post,
        RuleId.Last => LastConstraint.Post,
        RuleId.Due => DueConstraint.Post,
        RuleId.Launch => LaunchConstraint.Post,
        RuleId.Availability => AvailabilityConstraint.Post,
        RuleId.OnShift => OnShiftConstraint.Post,
        RuleId.ShiftLength => ShiftLengthConstraint.Post,
        RuleId.Break => BreakConstraint.Post,
        RuleId.Briefing => BriefingConstraint.Post,
        RuleId.Company => CompanyConstraint.Post,
        RuleId.Pin => PinConstraint.Post,
        RuleId.Rest => RestConstraint.Post,
        RuleId.YoungWorker => YoungWorkerConstraint.Post,
        RuleId.Keyholder => KeyholderConstraint.Post,
        RuleId.OpenClose => OpenCloseConstraint.Post,
        RuleId.TwoPerson => TwoPersonConstraint.Post,
        RuleId.Frozen => FrozenConstraint.Post,
    };
}
