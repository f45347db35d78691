using SetWeek.Model.Rules.People;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.People;

/// <summary>The constraint of <see cref="SkillRule"/> in the exact model.</summary>
internal static class SkillConstraint
{
    /// <summary>
    /// Requires as many people as the mode needs, and Hall's conditions for them (see <see cref="HallConditions"/>). Who fills
    /// which required skill is not decided here.
    /// </summary>
    public static void Post(CpWeekModel model)
    {
        foreach (var activity in model.NotBegun)
        {
            if (activity.FixedWork is not null
                && activity.HasPerson.All(hasPerson => model.IsFixedTrue(hasPerson) || model.IsFixedFalse(hasPerson))) continue;
            HallConditions[] conditions = [.. activity.Modes.Select(model.HallConditionsOf)];
            for (var mode = 0; mode < conditions.Length; mode++)
                if (!conditions[mode].CanBeStaffed) model.FixFalse(activity.InMode[mode]);
            model.RequirePeople(activity, ulong.MaxValue, ofMode => ofMode.People, exactly: true);
            var sets = conditions.SelectMany(ofMode => ofMode.MinPeopleBySet).Select(need => need.Set).Distinct().Order();
            foreach (var set in sets)
                model.RequirePeople(activity, set, ofMode => ofMode.MinPeopleFrom(set), exactly: false);
            foreach (var person in model.Problem.Crew)
            {
                for (var mode = 0; mode < conditions.Length; mode++)
                    if ((conditions[mode].EligiblePeople >> person.Index & 1) == 0)
                        model.NotAll(activity.HasPerson[person.Index], activity.InMode[mode]);
            }
        }
    }
}
