using SetWeek.Scheduling.Search;
using SetWeek.Scheduling.Search.Bounds;

namespace SetWeek.Scheduling.Explanations;

/// <summary>
/// The requirement behind an impossible week, found by lifting one at a time: named is the first without which there is a
/// plan, proven by that plan. Facts of the business first, since they can be changed; then the rules.
/// </summary>
internal static class Requirement
{
    /// <summary>Where no single requirement stands in the way alone, or none was found in time, the sentence says that.</summary>
    /// <param name="problem">Proven to have no plan.</param>
    /// <param name="budget">Most to spend on the whole question.</param>
    /// <param name="probe">Looks for a valid plan of a changed week within a budget; null where it finds none.</param>
    public static Breach Behind(Problem problem, Budget budget, Func<Problem, Budget, Schedule?> probe)
    {
        var open = Reliefs(problem.Week)
            .Select(relief => (Relief: relief, Problem: Problem.Of(relief.Lift(problem.Week), problem.Replan)))
            .Where(one => !Certificates.Of(one.Problem).Impossible).ToList();
        // Short probes first: where a requirement is the only one in the way, the week without it is mostly easy.
        foreach (var slice in (double[])[0.05, 0.5, 2])
            foreach (var (relief, without) in open)
            {
                if (budget.Spent) return Unnamed(open.Count);
                var part = budget.Part(slice);
                var plan = probe(without, part);
                budget.Use(part.Used);
                if (plan is not null && Checker.Check(without, plan).Count == 0) return relief.Breach;
            }
        return Unnamed(open.Count);
    }

    /// <summary>The order is that of what a lead would look at first; where several would do, the first is named.</summary>
    public static IEnumerable<Relief> Reliefs(Week week) =>
    [
        .. BusinessFacts.Of(week), .. WholeRules.OfWork, .. BusinessFacts.Closes(week), .. WholeRules.OfNightsAndPeople,
        .. BusinessFacts.Absences(week), .. BusinessFacts.Musts(week),
    ];

    private static Breach Unnamed(int open) => new("whole", new About(), open == 0
        ? "No plan exists, and no single requirement stands in its way alone: two or more of them together do."
        : "No plan exists; in the time given, no single requirement was found without which there is one.");
}
