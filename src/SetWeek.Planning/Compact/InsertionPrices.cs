using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Compact;

/// <summary>
/// Prices by which an insertion picks the place of one activity, so that the cheapest place serves the goals in their order.
/// Unit: minutes x rate, where a rate is in minor units of money an hour.
/// </summary>
internal sealed record InsertionPrices
{
    /// <summary>Factor of the added pay in a week without the goal cost; 1 with it.</summary>
    private const double PayFactorWithoutCostGoal = 0.2;

    /// <summary>
    /// An hour of mean pay divided by this gives <see cref="Delay"/>: if the goal finish comes before cost, and otherwise.
    /// </summary>
    private const double DelayDivisorIfAsked = 1, DelayDivisor = 2000;

    /// <summary>Hours of mean pay that each costs where its goal comes before cost; otherwise its price is 0.</summary>
    private const double NewShiftHours = 20, NewNightHours = 40, ChangeHours = 20;

    /// <summary>Displaced activities or people that cost an hour of mean pay.</summary>
    private const double DisplacedPerHour = 30;

    /// <summary>Hours of mean pay that a shuffled stint costs where that goal comes before cost.</summary>
    private const double ShuffledHours = 2;

    /// <summary>Moves, and handovers, that cost an hour of mean pay.</summary>
    private const double MovesPerHour = 3, HandoversPerHour = 1;

    /// <summary>Factor of the added pay.</summary>
    public double PayFactor { get; init; } = 1;

    /// <summary>
    /// Price of a minute of a person's work, as a share of the rate. It applies inside a paid shift too, because the time could
    /// serve other work.
    /// </summary>
    public double WorkedTime { get; init; } = 0.3;

    /// <summary>
    /// The same for each unit of the person's versatility, as a share of the mean rate. Opportunity cost: prefers the less
    /// versatile person.
    /// </summary>
    public double Versatility { get; init; }

    /// <summary>Price of a minute of later start, as a factor of the mean rate. Nights are laid end to end.</summary>
    public double Delay { get; init; } = 0.02;

    public double NewShift { get; init; }
    public double NewNight { get; init; }

    /// <summary>Price of a person's minute of late work, in searches that have a <see cref="LateWorkCriterion"/>.</summary>
    public double LateWork { get; init; }

    /// <summary>Re-plan: price of a stint in another night than published, and of a change to a published shift.</summary>
    public double Change { get; init; }

    /// <summary>
    /// Re-plan: price of a start time that differs from the published plan, and of each person whom the published plan does not
    /// assign to the work.
    /// </summary>
    public double Displaced { get; init; }

    /// <summary>
    /// Re-plan: price of a start in the published night that shuffles the stint, and of each other person there.
    /// </summary>
    public double Shuffled { get; init; }

    /// <summary>Price of a person who works in another zone than before or after it, in a week with the goal moves.</summary>
    public double Move { get; init; }

    /// <summary>
    /// Price of a person who is not on the stint before it or after it in the same night, in a week with the goal handovers.
    /// </summary>
    public double Handover { get; init; }

    /// <summary>Each price is multiplied by a uniform factor between 1 - this and 1 + this.</summary>
    public double Noise { get; init; }

    /// <summary>The usual prices for the goals of a problem.</summary>
    public static InsertionPrices For(Problem problem)
    {
        int Place(GoalId goal) =>
            Enumerable.Range(0, problem.Goals.Count).FirstOrDefault(at => problem.Goals[at].Goal == goal, int.MaxValue);
        var cost = Place(GoalId.Cost);
        var hour = 60.0 * Math.Max(1, problem.Crew.Select(person => person.Rate).DefaultIfEmpty(1).Average());
        return new InsertionPrices
        {
            PayFactor = cost == int.MaxValue ? PayFactorWithoutCostGoal : 1,
            Delay = hour / (Place(GoalId.Finish) < cost ? DelayDivisorIfAsked : DelayDivisor),
            NewShift = Place(GoalId.Shifts) < cost ? hour * NewShiftHours : 0,
            NewNight = Place(GoalId.Nights) < cost ? hour * NewNightHours : 0,
            LateWork = hour,
            Displaced = problem.Facts is null ? 0 : hour / DisplacedPerHour,
            Shuffled = problem.Facts is not null && Place(GoalId.Shuffled) < cost ? hour * ShuffledHours : 0,
            Move = Place(GoalId.Moves) < int.MaxValue ? hour / MovesPerHour : 0,
            Handover = Place(GoalId.Handovers) < int.MaxValue ? hour / HandoversPerHour : 0,
            Change = Place(GoalId.Changes) < cost ? hour * ChangeHours : 0,
        };
    }
}
