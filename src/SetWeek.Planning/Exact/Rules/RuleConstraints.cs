using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Rules.Form;
using SetWeek.Model.Rules.Order;
using SetWeek.Model.Rules.People;
using SetWeek.Model.Rules.Places;
using SetWeek.Model.Rules.Shifts;
using SetWeek.Planning.Exact.Rules.Form;
using SetWeek.Planning.Exact.Rules.Order;
using SetWeek.Planning.Exact.Rules.People;
using SetWeek.Planning.Exact.Rules.Places;
using SetWeek.Planning.Exact.Rules.Shifts;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Model.Plans;

namespace SetWeek.Planning.Exact.Rules;

/// <summary>Which constraint the exact model posts for which rule.</summary>
internal static class RuleConstraints
{
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
        RuleId.Rest => RestConstraint.Post,
        RuleId.YoungWorker => YoungWorkerConstraint.Post,
        RuleId.Keyholder => KeyholderConstraint.Post,
        RuleId.OpenClose => OpenCloseConstraint.Post,
        RuleId.TwoPerson => TwoPersonConstraint.Post,
        RuleId.Frozen => FrozenConstraint.Post,
    };
}
