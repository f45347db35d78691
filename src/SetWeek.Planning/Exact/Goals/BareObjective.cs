using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Model.Time;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="BareGoal"/> as an expression of the exact model.</summary>
internal static class BareObjective
{
    private const int ExpectedTerms = 16;

    /// <summary>
    /// One literal for each zone with trade and each night: the zone is bare at its closes. Free work lies within its night, so
    /// it has ended by the closes of that night and of every later one.
    /// </summary>
    public static GoalExpression Post(CpWeekModel model)
    {
        var sum = LinearExpr.NewBuilder(ExpectedTerms);
        foreach (var zone in model.Problem.Zones.Where(zone => zone.TradePerDay > 0))
        {
            CpActivity[] empties = [.. model.Stints.Where(stint => stint.Zone == zone.Index && stint.Task!.Empties)];
            CpActivity[] fills = [.. model.Stints.Where(stint =>
                stint.Zone == zone.Index && stint.Task!.Fills && stint.Stint!.IsLast)];
            if (empties.Length == 0 || fills.Length == 0) continue;
            foreach (var night in model.Problem.Nights)
            {
                var (emptied, unfilled, bare) = (model.Cp.NewBoolVar(""), model.Cp.NewBoolVar(""), model.Cp.NewBoolVar(""));
                foreach (var isDone in empties.SelectMany(stint => EndIn(model, stint, night, byCloses: true)))
                    model.Implies(isDone, emptied);
                foreach (var isDone in fills.SelectMany(stint => EndIn(model, stint, night, byCloses: false)))
                    model.Implies(isDone, unfilled);
                model.NotAll(emptied, unfilled, bare.Not());
                sum.AddTerm(bare, zone.TradePerDay);
            }
        }
        return sum;
    }

    /// <summary>Literals of the nights in which the stint may lie and ends by the night's closes, or ends after them.</summary>
    private static IEnumerable<ILiteral> EndIn(CpWeekModel model, CpActivity stint, NightWindow night, bool byCloses)
    {
        if (stint.FixedWork is { } work) return (work.To <= night.Closes) == byCloses ? [stint.Present] : [];
        return stint.InNight.Where((inNight, at) => !model.IsFixedFalse(inNight) && (at <= night.Index) == byCloses);
    }
}
