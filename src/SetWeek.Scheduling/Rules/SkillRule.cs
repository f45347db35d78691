using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class SkillRule : IRule
{
    public string Id => "skill";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var work in schedule.Work)
        {
            if (problem.WayOf(work) is not { } way) continue;
            foreach (var twice in work.People.GroupBy(hand => hand.Person).Where(hands => hands.Count() > 1))
                yield return Of(problem, work, null, $"{problem.Crew[twice.Key].Name} stands in two roles of {Say.Work(problem, work)}.");
            foreach (var skill in way.Posts.Select(post => post.Skill).Concat(work.People.Select(hand => hand.Skill)).Distinct())
                if (Fault(problem, work, way, skill) is { } fault)
                    yield return Of(problem, work, skill, fault);
        }
    }

    /// <summary>Levels are nested, so if any assignment to the roles of one skill fits, best to hardest does.</summary>
    private static string? Fault(Problem problem, Work work, Way way, int skill)
    {
        var asked = way.Posts.Where(post => post.Skill == skill).SelectMany(post => Enumerable.Repeat(post.Level, post.People)).OrderDescending().ToArray();
        var there = work.People.Where(hand => hand.Skill == skill).OrderByDescending(hand => Level(problem, hand)).ToArray();
        if (asked.Length != there.Length)
            return $"{Say.Work(problem, work)} asks for {Say.People(asked.Length)} of {Named(problem, skill)} and has {there.Length}.";
        for (var place = 0; place < asked.Length; place++)
            if (Level(problem, there[place]) < asked[place])
                return $"{Say.Work(problem, work)} asks for {Named(problem, skill)} at level {asked[place]}; {problem.Crew[there[place].Person].Name} has {Level(problem, there[place])}.";
        return null;
    }

    /// <summary>Nobody is at less than 1: somebody without the skill fits no role of it.</summary>
    private static int Level(Problem problem, Hand hand) => hand.Skill < 0 ? 0 : problem.Crew[hand.Person].Levels[hand.Skill];

    private static string Named(Problem problem, int skill) => skill < 0 ? "a skill unknown here" : problem.Skills[skill];

    private Breach Of(Problem problem, Work work, int? skill, string sentence) =>
        new(Id, Say.About(problem, work) with { Skill = skill >= 0 ? problem.Skills[skill.Value] : null }, sentence) { OnlyFacts = problem.Began(work) };
}
