using System.Globalization;
using SetWeek.Domain.Plans;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Words;

/// <summary>How far the search for a plan is, as a page and its stream of events say it.</summary>
public sealed class ProgressSentences(Week week)
{
    private readonly GoalLabels words = new(week);

    /// <summary>A goal of the best plan so far.</summary>
    /// <param name="Best">Its value in that plan.</param>
    /// <param name="Bound">What no plan does better than, as far as it is known.</param>
    public sealed record Row(GoalId Goal, string Name, string Best, string Bound);

    /// <param name="afterMilliseconds">When the best plan was found; null if none is.</param>
    /// <param name="isEnding">Whether a lead has ended the search with it.</param>
    public static string Of(
        CandidateState state, long? afterMilliseconds, bool isEnding = false) => (state, afterMilliseconds) switch
    {
        (CandidateState.Queued, _) => "The request waits for its turn.",
        (CandidateState.Solving, { }) when isEnding =>
            "The search is stopped. The chance that its best plan holds is being measured.",
        (CandidateState.Solving, null) => "No plan is found yet.",
        (CandidateState.Solving, { } after) => string.Create(CultureInfo.InvariantCulture,
            $"The best plan so far was found after {after / 1000.0:0.0} s. The search goes on."),
        (CandidateState.Ready, _) => "The plan is ready.",
        (CandidateState.None, _) => "The search has ended without a plan.",
        (CandidateState.Overtaken, _) => "The week has changed since. Ask again.",
        (CandidateState.Cancelled, _) => "A later request has taken the place of this one.",
        (CandidateState.Failed, _) => "The search has failed. Ask again.",
        _ => "",
    };

    /// <param name="showsPay">Whether the reader may see wages.</param>
    public IReadOnlyList<Row> Rows(IReadOnlyList<GoalValue> goals, bool showsPay) =>
        [.. goals.Where(goal => showsPay || goal.Goal != GoalId.Cost).Select(goal => new Row(goal.Goal,
            GoalLabels.Name(goal.Goal), words.Value(goal.Goal, goal.Value), words.Bound(goal)))];
}
