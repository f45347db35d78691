using SetWeek.Model.Changes;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Replanning;

/// <summary>
/// Work goes on for one night more than was published, and no longer, as cheaply as it can. Where that is the last night that the
/// week has, there is nothing in it that <see cref="Cheapest"/> has not.
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
        var week = new LaunchMoved(stop).Apply(OptionSpecification.WithGoalFirst(problem.Week, GoalId.Cost));
        return new("One more night",
            $"Work goes on into {WeekPhrases.Night(week, more.Id)}, and no further; within that, low wages come first.", week, true);
    }
}
