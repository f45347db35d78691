using SetWeek.Model.Changes;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Replanning;

/// <summary>
/// The cheapest plan that uses at most one night more than the published plan. If that night is the last of the week, the kind
/// does not apply: <see cref="Cheapest"/> then has the same plans.
/// </summary>
internal sealed class OneMoreNight : IOptionKind
{
    public string Id => "one-more-night";

    public OptionSpecification? For(ReplanSituation situation)
    {
        var (problem, last) = (situation.Problem, situation.LastNight);
        if (last < 0 || last + 2 >= problem.Nights.Count) return null;
        var (more, buffer) = (problem.Week.Nights[last + 1], problem.Rules.LaunchBufferMinutes ?? 0);
        var stop = problem.Grid.TimeOf(problem.Nights[last + 1].Closes + buffer).LocalDateTime;
        var week = new LaunchTimeMoved(stop).Apply(OptionSpecification.WithGoalFirst(problem.Week, GoalId.Cost));
        return new("One more night",
            $"Work ends in {WeekPhrases.Night(week, more.Id)} at the latest. Within that, wages are as low as possible.",
            week, true);
    }
}
