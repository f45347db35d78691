using SetWeek.Model.Rules.People;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.People;

/// <summary>The constraint of <see cref="SkillRule"/> in the exact model.</summary>
internal static class SkillConstraint
{
    /// <summary>Who stands where is not decided: enough people for every union of roles, and a matching exists (Hall).</summary>
    public static void Post(ExactModel model)
    {
        foreach (var job in model.Open)
        {
            if (job.Fixed is not null && job.People.All(at => model.IsYes(at) || model.IsNo(at))) continue;
            Crewing[] crewings = [.. job.Ways.Select(model.CrewingOf)];
            for (var mode = 0; mode < crewings.Length; mode++)
                if (!crewings[mode].Fillable) model.Deny(job.Modes[mode]);
            model.Staffed(job, ulong.MaxValue, crewing => crewing.People, exactly: true);
            foreach (var set in crewings.SelectMany(crewing => crewing.Needs).Select(need => need.Set).Distinct().Order())
                model.Staffed(job, set, crewing => crewing.NeedOf(set), exactly: false);
            foreach (var person in model.Problem.Crew)
            {
                for (var mode = 0; mode < crewings.Length; mode++)
                    if ((crewings[mode].Everyone >> person.Index & 1) == 0)
                        model.Never(job.People[person.Index], job.Modes[mode]);
            }
        }
    }
}
