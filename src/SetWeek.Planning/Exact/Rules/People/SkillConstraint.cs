using SetWeek.Model.Rules.People;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.People;

/// <summary>The constraint of <see cref="SkillRule"/> in the exact model.</summary>
internal static class SkillConstraint
{
    /// <summary>Who stands where is not decided: enough people for every union of roles, and a matching exists (Hall).</summary>
    public static void Post(CpWeekModel model)
    {
        foreach (var activity in model.NotBegun)
        {
            if (activity.FixedWork is not null && activity.HasPerson.All(at => model.IsFixedTrue(at) || model.IsFixedFalse(at))) continue;
            HallConditions[] crewings = [.. activity.Modes.Select(model.HallConditionsOf)];
            for (var mode = 0; mode < crewings.Length; mode++)
                if (!crewings[mode].CanBeStaffed) model.FixFalse(activity.InMode[mode]);
            model.RequirePeople(activity, ulong.MaxValue, crewing => crewing.People, exactly: true);
            foreach (var set in crewings.SelectMany(crewing => crewing.MinPeopleBySet).Select(need => need.Set).Distinct().Order())
                model.RequirePeople(activity, set, crewing => crewing.MinPeopleFrom(set), exactly: false);
            foreach (var person in model.Problem.Crew)
            {
                for (var mode = 0; mode < crewings.Length; mode++)
                    if ((crewings[mode].EligiblePeople >> person.Index & 1) == 0)
                        model.NotAll(activity.HasPerson[person.Index], activity.InMode[mode]);
            }
        }
    }
}
