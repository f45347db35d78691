using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Weeks;

/// <summary>Numbers the pieces of work of a plan that is published.</summary>
public static class PieceNumbering
{
    /// <summary>A night has this many numbers of the short form, such as 101 to 199.</summary>
    private const int ShortForms = 99;

    /// <summary>
    /// A piece that was in the same night of the plan before keeps its number. Every other piece gets the next number of its
    /// night, in the order of their starts.
    /// </summary>
    /// <param name="before">The numbers of the plan that was published before.</param>
    /// <param name="nights">The ids of the week's nights, in time order.</param>
    public static PieceNumbers Next(PieceNumbers before, IEnumerable<string> nights, Plan plan)
    {
        var numbered = before.Nights.ToList();
        foreach (var night in nights.Concat(plan.Nights.Select(night => night.Night)))
            if (numbered.All(known => known.Night != night))
                numbered.Add(new NumberedNight(night, numbered.Select(known => known.Number).DefaultIfEmpty(0).Max() + 1, 0));
        var pieces = new List<NumberedPiece>();
        foreach (var night in plan.Nights)
        {
            var at = numbered.FindIndex(known => known.Night == night.Night);
            foreach (var work in night.Work.OrderBy(work => work.From.ToInstant()).ThenBy(work => work.To.ToInstant()))
            {
                var number = before.Of(KeyOf(work, night.Night), night.Night);
                if (number is null) numbered[at] = numbered[at] with { Used = numbered[at].Used + 1 };
                pieces.Add(new NumberedPiece(number ?? NumberOf(numbered[at].Number, numbered[at].Used), night.Night, work.Task,
                    work.Task is null ? null : work.Stint, work.CleanDown));
            }
        }
        return new PieceNumbers(numbered, pieces);
    }

    /// <summary>The key under which the floor reports a piece of work.</summary>
    public static WorkKey KeyOf(PlannedWork work, string night) =>
        work.Task is { } task ? new WorkKey(task, work.Stint ?? 1) : WorkKey.CleanDownOf(work.CleanDown!, night);

    /// <summary>
    /// The hundredth piece of the first night is 10100: 200 could be taken for one of the second night. So the two forms never
    /// meet, with up to 99 nights.
    /// </summary>
    private static int NumberOf(int night, int order) => night * (order <= ShortForms ? 100 : 10_000) + order;
}
