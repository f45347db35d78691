using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Rules.People;

internal sealed class SkillRule : IRule
{
    public string Id => "skill";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var work in schedule.Work)
        {
            if (problem.WayOf(work) is not { } way) continue;
            for (var one = 0; one < work.People.Count; one++)
                for (var other = 0; other < one; other++)
                    if (work.People[one].Person == work.People[other].Person)
                        yield return Of(problem, work, null,
                            $"{problem.Crew[work.People[one].Person].Name} stands in two roles of {Say.Work(problem, work)}.");
            foreach (var skill in Skills(way, work))
                if (Fault(problem, work, way, skill) is { } fault)
                    yield return Of(problem, work, skill, fault);
        }
    }

    private static HashSet<int> Skills(Way way, Work work)
    {
        var skills = new HashSet<int>();
        foreach (var post in way.Posts) skills.Add(post.Skill);
        foreach (var hand in work.People) skills.Add(hand.Skill);
        return skills;
    }

    /// <summary>Levels are nested, so if any assignment to the roles of one skill fits, lowest to lowest and up does.</summary>
    private static string? Fault(Problem problem, Work work, Way way, int skill)
    {
        List<int> asked = [], there = [];
        foreach (var post in way.Posts)
            for (var place = 0; post.Skill == skill && place < post.People; place++) asked.Add(post.Level);
        foreach (var hand in work.People)
            // Somebody without the skill has it at level 0, which fits no role.
            if (hand.Skill == skill) there.Add(skill < 0 ? 0 : problem.Crew[hand.Person].Levels[skill]);
        var name = skill < 0 ? "a skill unknown here" : problem.Skills[skill];
        if (asked.Count != there.Count)
            return $"{Say.Work(problem, work)} asks for {InWords.People(asked.Count)} of {name} and has {there.Count}.";
        asked.Sort();
        there.Sort();
        for (var place = 0; place < asked.Count; place++)
            if (there[place] < asked[place])
                return $"{Say.Work(problem, work)} asks for {name} at level {string.Join(", ", asked)}; its people have "
                    + $"{string.Join(", ", there)}.";
        return null;
    }

    private Breach Of(Problem problem, Work work, int? skill, string sentence) =>
        new(Id, Say.About(problem, work) with { Skill = skill >= 0 ? problem.Skills[skill.Value] : null }, sentence)
            { OnlyFacts = problem.Began(work) };
}
