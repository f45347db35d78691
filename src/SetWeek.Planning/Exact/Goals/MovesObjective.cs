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
    public static GoalExpression Post(CpWeekModel model)
    {
        var rounds = (from night in model.Problem.Nights
                      from person in model.Problem.Crew
                      let works = CandidateWork(model, person.Index, night.Index)
                      where works.Count > 1
                      select works).ToList();
        if (rounds.Sum(works => (long)works.Count * works.Count) > MaxPairs)
            return new GoalExpression(LinearExpr.Constant(0), IsExact: false);
        var sum = LinearExpr.NewBuilder(64).Add(PastMoves(model));
        foreach (var works in rounds) AddCircuit(model, works, sum);
        return sum;
    }

    private const long MaxPairs = 20_000;

    /// <summary>Works that may be the person's that night, each with the literal that it is; of begun ones the last.</summary>
    private static List<(CpActivity Job, ILiteral There)> CandidateWork(CpWeekModel model, int person, int night)
    {
        var works = new List<(CpActivity, ILiteral)>();
        foreach (var activity in model.NotBegun)
        {
            var (at, then) = (activity.HasPerson[person], activity.InNight[night]);
            if (model.IsFixedFalse(at) || model.IsFixedFalse(then)) continue;
            works.Add((activity, model.AssignedInNight(activity, person, night)));
        }
        if (works.Count > 0 && BegunWorkOf(model, person, night).LastOrDefault() is { } last) works.Add((last, model.TrueLiteral));
        return works;
    }

    private static IEnumerable<CpActivity> BegunWorkOf(CpWeekModel model, int person, int night) => model.Activities
        .Where(activity => activity.Begun && activity.FixedWork!.Night == night && model.IsFixedTrue(activity.HasPerson[person]))
        .OrderBy(activity => activity.FixedWork!.From);

    private static int PastMoves(CpWeekModel model) => (
        from night in model.Problem.Nights
        from person in model.Problem.Crew
        let zones = BegunWorkOf(model, person.Index, night.Index).Select(activity => activity.Zone).ToArray()
        select zones.Zip(zones.Skip(1)).Count(pair => pair.First != pair.Second)).Sum();

    private static void AddCircuit(CpWeekModel model, List<(CpActivity Job, ILiteral There)> works, LinearExprBuilder sum)
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
                if (before.FixedWork is { } first && after.FixedWork is { } second && first.To > second.From) continue;
                var next = model.Cp.NewBoolVar("");
                round.AddArc(one + 1, other + 1, next);
                if (!before.Begun) model.AtLeast(after.Start - before.End, 0, next);
                if (before.Zone != after.Zone) sum.Add(next);
            }
        }
    }
}
