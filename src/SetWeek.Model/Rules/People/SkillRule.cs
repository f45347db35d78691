using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Rules.People;

/// <summary>
/// The skill rule: work has exactly the people that its mode requires, each with the skill at the required level or above.
/// One person fills one requirement. Requirements of one skill with different levels are met if some matching of people to
/// them exists.
/// </summary>
internal sealed class SkillRule : IRule
{
    public RuleId Id => RuleId.Skill;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var work in schedule.Work)
        {
            if (problem.ModeOf(work) is not { } mode) continue;
            for (var i = 0; i < work.Assignments.Count; i++)
                for (var j = 0; j < i; j++)
                    if (work.Assignments[i].Person == work.Assignments[j].Person)
                        yield return BreachOf(problem, work, null,
                            $"{problem.Crew[work.Assignments[i].Person].Name} fills two roles of "
                                + $"{RulePhrases.Work(problem, work)}.");
            foreach (var skill in SkillsInvolved(mode, work))
                if (BreachSentence(problem, work, mode, skill) is { } fault)
                    yield return BreachOf(problem, work, skill, fault);
        }
    }

    private static HashSet<int> SkillsInvolved(ActivityMode mode, ScheduledWork work)
    {
        var skills = new HashSet<int>();
        foreach (var requirement in mode.RequiredSkills) skills.Add(requirement.Skill);
        foreach (var assignment in work.Assignments) skills.Add(assignment.Skill);
        return skills;
    }

    /// <summary>
    /// The sentence about one skill, or null if it is met. A higher level meets every lower one. So a matching exists exactly
    /// if the sorted levels of the people reach the sorted levels required, one by one.
    /// </summary>
    private static string? BreachSentence(Problem problem, ScheduledWork work, ActivityMode mode, int skill)
    {
        List<int> required = [], assigned = [];
        foreach (var requirement in mode.RequiredSkills)
            for (var place = 0; requirement.Skill == skill && place < requirement.People; place++)
                required.Add(requirement.Level);
        foreach (var assignment in work.Assignments)
            // A person without the skill has level 0, which meets no requirement.
            if (assignment.Skill == skill) assigned.Add(skill < 0 ? 0 : problem.Crew[assignment.Person].Levels[skill]);
        var name = skill < 0 ? "an unknown skill" : problem.Skills[skill];
        if (required.Count != assigned.Count)
            return $"{RulePhrases.Work(problem, work)} needs {WeekPhrases.People(required.Count)} for {name}, but has "
                + $"{assigned.Count}.";
        required.Sort();
        assigned.Sort();
        for (var place = 0; place < required.Count; place++)
            if (assigned[place] < required[place])
                return $"{RulePhrases.Work(problem, work)} needs {name} at level {string.Join(", ", required)}; its people have "
                    + $"level {string.Join(", ", assigned)}.";
        return null;
    }

    private Breach BreachOf(Problem problem, ScheduledWork work, int? skill, string sentence) =>
        new(Id, RulePhrases.Subject(problem, work) with { Skill = skill >= 0 ? problem.Skills[skill.Value] : null }, sentence)
            { IsUnavoidable = problem.HasBegun(work) };
}
