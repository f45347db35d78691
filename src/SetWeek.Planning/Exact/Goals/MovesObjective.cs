using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="MovesGoal"/> as an expression of the exact model.</summary>
internal static class MovesObjective
{
    /// <summary>Pairs of activities above which the circuits are not posted, since the model would become too large.</summary>
    private const long MaxPairs = 20_000;

    private const int ExpectedTerms = 64;

    /// <summary>
    /// One circuit for each person and night visits their activities in the order of time. An arc between two zones is a move.
    /// Where that takes too many pairs of activities, the expression is the trivial bound 0 and not exact.
    /// </summary>
    public static GoalExpression Post(CpWeekModel model)
    {
        var circuits = (from night in model.Problem.Nights
                        from person in model.Problem.Crew
                        let activities = CandidateActivities(model, person.Index, night.Index)
                        where activities.Count > 1
                        select activities).ToList();
        if (circuits.Sum(activities => (long)activities.Count * activities.Count) > MaxPairs)
            return new GoalExpression(LinearExpr.Constant(0), IsExact: false);
        var sum = LinearExpr.NewBuilder(ExpectedTerms).Add(PastMoves(model));
        foreach (var activities in circuits) AddCircuit(model, activities, sum);
        return sum;
    }

    /// <summary>
    /// Activities that the person may do in the night, each with the literal for it. Of begun work only the last counts: it is
    /// where the person comes from.
    /// </summary>
    private static List<(CpActivity Activity, ILiteral Assigned)> CandidateActivities(CpWeekModel model, int person, int night)
    {
        var candidates = new List<(CpActivity, ILiteral)>();
        foreach (var activity in model.NotBegun)
        {
            if (model.IsFixedFalse(activity.HasPerson[person]) || model.IsFixedFalse(activity.InNight[night])) continue;
            candidates.Add((activity, model.AssignedInNight(activity, person, night)));
        }
        if (candidates.Count > 0 && BegunWorkOf(model, person, night).LastOrDefault() is { } last)
            candidates.Add((last, model.TrueLiteral));
        return candidates;
    }

    private static IEnumerable<CpActivity> BegunWorkOf(CpWeekModel model, int person, int night) => model.Activities
        .Where(activity => activity.Begun && activity.FixedWork!.Night == night
            && model.IsFixedTrue(activity.HasPerson[person]))
        .OrderBy(activity => activity.FixedWork!.From);

    private static int PastMoves(CpWeekModel model) => (
        from night in model.Problem.Nights
        from person in model.Problem.Crew
        let zones = BegunWorkOf(model, person.Index, night.Index).Select(activity => activity.Zone).ToArray()
        select zones.Zip(zones.Skip(1)).Count(pair => pair.First != pair.Second)).Sum();

    /// <summary>Node 0 is the start and end of the circuit. A loop skips an activity that the person does not do.</summary>
    private static void AddCircuit(
        CpWeekModel model, List<(CpActivity Activity, ILiteral Assigned)> candidates, LinearExprBuilder sum)
    {
        var circuit = model.Cp.AddCircuit();
        var idle = model.Cp.NewBoolVar("");
        circuit.AddArc(0, 0, idle);
        for (var from = 0; from < candidates.Count; from++)
        {
            circuit.AddArc(from + 1, from + 1, candidates[from].Assigned.Not());
            model.Implies(idle, candidates[from].Assigned.Not());
            circuit.AddArc(0, from + 1, model.Cp.NewBoolVar(""));
            circuit.AddArc(from + 1, 0, model.Cp.NewBoolVar(""));
            for (var to = 0; to < candidates.Count; to++)
            {
                var (before, after) = (candidates[from].Activity, candidates[to].Activity);
                if (from == to || after.Begun) continue;
                if (before.FixedWork is { } first && after.FixedWork is { } second && first.To > second.From) continue;
                var next = model.Cp.NewBoolVar("");
                circuit.AddArc(from + 1, to + 1, next);
                if (!before.Begun) model.AtLeast(after.Start - before.End, 0, next);
                if (before.Zone != after.Zone) sum.Add(next);
            }
        }
    }
}
