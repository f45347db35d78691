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

namespace SetWeek.Planning.Exact.Rules;

/// <summary>Maps each rule to the constraint that the exact model posts for it.</summary>
internal static class RuleConstraints
{
    /// <summary>Posts the constraint of a rule.</summary>
    public static void Post(IRule rule, CpWeekModel model)
    {
        switch (rule)
        {
            case GridRule: GridConstraint.Post(model); break;
            case WholeRule: WholeConstraint.Post(model); break;
            case WindowRule: WindowConstraint.Post(model); break;
            case BanRule: BanConstraint.Post(model); break;
            case AfterRule: AfterConstraint.Post(model); break;
            case DryingRule: DryingConstraint.Post(model); break;
            case SameNightRule: SameNightConstraint.Post(model); break;
            case KitRule: KitConstraint.Post(model); break;
            case EquipmentRule: EquipmentConstraint.Post(model); break;
            case SkillRule: SkillConstraint.Post(model); break;
            case OnePlaceRule: OnePlaceConstraint.Post(model); break;
            case ZoneRoomRule: ZoneRoomConstraint.Post(model); break;
            case ZoneClosedRule: ZoneClosedConstraint.Post(model); break;
            case CleanDownRule: CleanDownConstraint.Post(model); break;
            case LastRule: LastConstraint.Post(model); break;
            case DueRule: DueConstraint.Post(model); break;
            case LaunchRule: LaunchConstraint.Post(model); break;
            case AvailabilityRule: AvailabilityConstraint.Post(model); break;
            case OnShiftRule: OnShiftConstraint.Post(model); break;
            case ShiftLengthRule: ShiftLengthConstraint.Post(model); break;
            case BreakRule: BreakConstraint.Post(model); break;
            case RestRule: RestConstraint.Post(model); break;
            case YoungWorkerRule: YoungWorkerConstraint.Post(model); break;
            case KeyholderRule: KeyholderConstraint.Post(model); break;
            case OpenCloseRule: OpenCloseConstraint.Post(model); break;
            case TwoPersonRule: TwoPersonConstraint.Post(model); break;
            case FrozenRule: FrozenConstraint.Post(model); break;
            default: throw new ArgumentException($"The exact model has no constraint for {rule.Id}.", nameof(rule));
        }
    }
}
