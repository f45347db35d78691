using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="MovesGoal"/> as an expression of the exact model.</summary>
internal static class MovesObjective
{
    /// <summary>
    /// A round through the works of each person and night in the order of time. Where that takes too many pairs of works the
    /// expression is 0, which bounds the goal and does not say it.
    /// </summary>
    public static GoalTerm Post(ExactModel model)
    {
        var rounds = (from night in model.Problem.Nights
                      from person in model.Problem.Crew
                      let works = WorksOf(model, person.Index, night.Index)
                      where works.Count > 1
                      select works).ToList();
        if (rounds.Sum(works => (long)works.Count * works.Count) > MostPairs)
            return new GoalTerm(LinearExpr.Constant(0), Exact: false);
        var sum = LinearExpr.NewBuilder(64).Add(Past(model));
        foreach (var works in rounds) AddRound(model, works, sum);
        return sum;
    }

    private const long MostPairs = 20_000;

    /// <summary>Works that may be the person's that night, each with the literal that it is; of begun ones the last.</summary>
    private static List<(ExactJob Job, ILiteral There)> WorksOf(ExactModel model, int person, int night)
    {
        var works = new List<(ExactJob, ILiteral)>();
        foreach (var job in model.Open)
        {
            var (at, then) = (job.People[person], job.Nights[night]);
            if (model.IsNo(at) || model.IsNo(then)) continue;
            works.Add((job, model.Both(job, person, night)));
        }
        if (works.Count > 0 && BegunBy(model, person, night).LastOrDefault() is { } last) works.Add((last, model.Yes));
        return works;
    }

    private static IEnumerable<ExactJob> BegunBy(ExactModel model, int person, int night) => model.Jobs
        .Where(job => job.Begun && job.Fixed!.Night == night && model.IsYes(job.People[person]))
        .OrderBy(job => job.Fixed!.From);

    private static int Past(ExactModel model) => (
        from night in model.Problem.Nights
        from person in model.Problem.Crew
        let zones = BegunBy(model, person.Index, night.Index).Select(job => job.Zone).ToArray()
        select zones.Zip(zones.Skip(1)).Count(pair => pair.First != pair.Second)).Sum();

    private static void AddRound(ExactModel model, List<(ExactJob Job, ILiteral There)> works, LinearExprBuilder sum)
    {
        var round = model.Cp.AddCircuit();
        var none = model.Cp.NewBoolVar("");
        round.AddArc(0, 0, none);
        for (var one = 0; one < works.Count; one++)
        {
            round.AddArc(one + 1, one + 1, works[one].There.Not());
            model.Implies(none, works[one].There.Not());
            round.AddArc(0, one + 1, model.Cp.NewBoolVar(""));
            round.AddArc(one + 1, 0, model.Cp.NewBoolVar(""));
            for (var other = 0; other < works.Count; other++)
            {
                var (before, after) = (works[one].Job, works[other].Job);
                if (one == other || after.Begun) continue;
                if (before.Fixed is { } first && after.Fixed is { } second && first.To > second.From) continue;
                var next = model.Cp.NewBoolVar("");
                round.AddArc(one + 1, other + 1, next);
                if (!before.Begun) model.AtLeast(after.Start - before.End, 0, next);
                if (before.Zone != after.Zone) sum.Add(next);
            }
        }
    }
}
