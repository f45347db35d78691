using SetWeek.Model.Weeks;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>
/// What the placing of one job is charged for, so that the cheapest place serves the goals in their order. Unit: minor
/// units of money times 60, a minute of somebody at the rate of one.
/// </summary>
internal sealed record InsertionPrices
{
    /// <summary>Paid minutes count at their rate times this.</summary>
    public double PayFactor { get; init; } = 1;

    /// <summary>A minute of anybody's work where the shift is paid for anyway: the time could serve something else.</summary>
    public double WorkedTime { get; init; } = 0.3;

    /// <summary>The same, by how much the person is asked for: who can do little else is taken first.</summary>
    public double Versatility { get; init; }

    /// <summary>A slot later in the week, nights laid end to end.</summary>
    public double Delay { get; init; } = 0.02;

    public double NewShift { get; init; }
    public double NewNight { get; init; }
    public double Move { get; init; } = 5;

    /// <summary>A minute of anybody's work beyond the nights that are to hold all of it.</summary>
    public double LateWork { get; init; }

    /// <summary>Re-plan: a stint in another night than published, a shift other than published.</summary>
    public double Change { get; init; }

    /// <summary>Re-plan: a start other than published, and each person who was not published for it.</summary>
    public double ReshuffledWork { get; init; }

    /// <summary>Costs are multiplied by one plus or minus up to this.</summary>
    public double Noise { get; init; }

    public static InsertionPrices For(Problem problem)
    {
        int Place(GoalId goal) =>
            Enumerable.Range(0, problem.Goals.Count).FirstOrDefault(at => problem.Goals[at].Goal == goal, int.MaxValue);
        var cost = Place(GoalId.Cost);
        var hour = 60.0 * Math.Max(1, problem.Crew.Select(person => person.Rate).DefaultIfEmpty(1).Average());
        return new InsertionPrices
        {
            PayFactor = cost == int.MaxValue ? 0.2 : 1,
            Delay = Place(GoalId.Finish) < cost ? hour : hour / 2000,
            NewShift = Place(GoalId.Shifts) < cost ? hour * 20 : 0,
            NewNight = Place(GoalId.Nights) < cost ? hour * 40 : 0,
            LateWork = hour,
            Move = Place(GoalId.Moves) < cost ? hour * 4 : hour / 60,
            ReshuffledWork = problem.Facts is null ? 0 : hour / 30,
            Change = Place(GoalId.Changes) < cost ? hour * 20 : 0,
        };
    }
}
