using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Rules.People;

internal sealed class SkillRule : IRule
{
    public RuleId Id => RuleId.Skill;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var work in schedule.Work)
        {
            if (problem.ModeOf(work) is not { } mode) continue;
            for (var one = 0; one < work.Assignments.Count; one++)
                for (var other = 0; other < one; other++)
                    if (work.Assignments[one].Person == work.Assignments[other].Person)
                        yield return BreachOf(problem, work, null,
                            $"{problem.Crew[work.Assignments[one].Person].Name} stands in two roles of {RulePhrases.Work(problem, work)}.");
            foreach (var skill in SkillsInvolved(mode, work))
                if (BreachSentence(problem, work, mode, skill) is { } fault)
                    yield return BreachOf(problem, work, skill, fault);
        }
    }

    private static HashSet<int> SkillsInvolved(ActivityMode mode, ScheduledWork work)
    {
        var skills = new HashSet<int>();
        foreach (var post in mode.RequiredSkills) skills.Add(post.Skill);
        foreach (var assignment in work.Assignments) skills.Add(assignment.Skill);
        return skills;
    }

    /// <summary>Levels are nested, so if any assignment to the roles of one skill fits, lowest to lowest and up does.</summary>
    private static string? BreachSentence(Problem problem, ScheduledWork work, ActivityMode mode, int skill)
    {
        List<int> asked = [], there = [];
        foreach (var post in mode.RequiredSkills)
            for (var place = 0; post.Skill == skill && place < post.People; place++) asked.Add(post.Level);
        foreach (var assignment in work.Assignments)
            // Somebody without the skill has it at level 0, which fits no role.
            if (assignment.Skill == skill) there.Add(skill < 0 ? 0 : problem.Crew[assignment.Person].Levels[skill]);
        var name = skill < 0 ? "a skill unknown here" : problem.Skills[skill];
        if (asked.Count != there.Count)
            return $"{RulePhrases.Work(problem, work)} asks for {WeekPhrases.People(asked.Count)} of {name} and has {there.Count}.";
        asked.Sort();
        there.Sort();
        for (var place = 0; place < asked.Count; place++)
            if (there[place] < asked[place])
                return $"{RulePhrases.Work(problem, work)} asks for {name} at level {string.Join(", ", asked)}; its people have "
                    + $"{string.Join(", ", there)}.";
        return null;
    }

    private Breach BreachOf(Problem problem, ScheduledWork work, int? skill, string sentence) =>
        new(Id, RulePhrases.Subject(problem, work) with { Skill = skill >= 0 ? problem.Skills[skill.Value] : null }, sentence)
            { IsUnavoidable = problem.HasBegun(work) };
}
