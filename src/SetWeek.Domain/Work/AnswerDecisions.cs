using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Work.Gates;

namespace SetWeek.Domain.Work;

/// <summary>Decides on the answers to gates and checks.</summary>
public static class AnswerDecisions
{
    /// <summary>What a finish with these answers is: work with a check that is not good is not done.</summary>
    /// <param name="remainingMinutes">What putting it right takes; null if nobody says.</param>
    public static IWorkReport Finishing(WorkFinished finish, int? remainingMinutes) =>
        finish.Checks?.Any(check => check.Result == CheckResult.NotGood) is not true ? finish
            : new ChecksFailed(finish.Report, finish.Task, finish.Stint, finish.Night, finish.At, finish.Checks, remainingMinutes,
                finish.Air, finish.People, finish.By, finish.Clock, finish.Corrects, finish.Photos);

    /// <returns>Null if the answers can be recorded.</returns>
    public static Refusal? Refused(StoreWeek week, IWorkReport report) => report switch
    {
        WorkStarted { Gates: { } gates } start =>
            gates.Select(gate => Refused(week, start, gate)).FirstOrDefault(refusal => refusal is not null),
        WorkFinished { Checks: { } checks } finish => Unknown(week, finish.Task, checks),
        ChecksFailed failed => Unknown(week, failed.Task, failed.Checks),
        _ => null,
    };

    private static Refusal? Refused(StoreWeek week, WorkStarted start, GateAnswer answer) =>
        UsualGates.Known.Before.FirstOrDefault(gate => gate.Id == answer.Gate) switch
        {
            null => new Refusal("unknown-gate", $"There is no gate \"{answer.Gate}\"."),
            var gate when answer.Result == CheckResult.NotGood => new Refusal("gate-not-good",
                $"{Phrases.Task(week.Week, start.Task)} does not begin, because this is not so: {gate.Text} "
                    + "Put it right first. If that is not possible, report the work as blocked, or stop it as not safe."),
            _ => null,
        };

    /// <summary>
    /// An answer is kept with the text of its check. The text of an earlier version counts too: a phone without network may have
    /// shown it.
    /// </summary>
    private static Refusal? Unknown(StoreWeek week, string task, IReadOnlyList<CheckAnswer> answers)
    {
        var known = week.Week.Tasks.Concat(week.Facts.Opened.Week.Tasks)
            .Concat(week.Facts.Counting.OfType<TasksRevised>().SelectMany(revised => revised.Set))
            .Where(version => version.Id == task).SelectMany(version => version.Checks)
            .Concat(UsualGates.Known.After.Select(gate => gate.Text)).ToHashSet();
        return answers.FirstOrDefault(answer => !known.Contains(answer.Check)) is { } stranger
            ? new Refusal("unknown-check", $"This work has no check \"{stranger.Check}\". Load its page again.") : null;
    }
}
