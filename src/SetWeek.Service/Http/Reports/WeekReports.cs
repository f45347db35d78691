using SetWeek.Domain;
using SetWeek.Domain.Reports;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Http.Reports;

/// <summary>
/// The decisions on all reports of a group on one week, in their order, each on the week after those before it.
/// </summary>
/// <param name="Before">The week on which they are decided.</param>
/// <param name="After">The week after the last event.</param>
/// <param name="Answers">The answer to each submission.</param>
internal sealed record WeekReports(
    FoldedStream<StoreWeek> Before, FoldedStream<StoreWeek> After, IReadOnlyList<WeekReports.Recorded> Events,
    IReadOnlyList<Note> Notes, IReadOnlyList<(Submission Submission, Answer Answer)> Answers, bool HasRefusal)
{
    /// <summary>An event with the report that it comes from.</summary>
    internal sealed record Recorded(IWeekEvent Event, Submission Submission, FloorReport Report);

    /// <param name="enteredBy">Who entered the earlier reports of which decisions ask, by the id of the report.</param>
    public static WeekReports Decide(FoldedStream<StoreWeek> before, IEnumerable<Submission> submissions,
        IReadOnlyDictionary<string, string> enteredBy)
    {
        var (events, notes, answers, hasRefusal) = (new List<Recorded>(), new List<Note>(), new List<(Submission, Answer)>(),
            false);
        var week = before.State;
        foreach (var submission in submissions)
        {
            var items = submission.Batch.Items.Select(item => item.Match(report => Take(submission, report), refused => refused))
                .ToList();
            answers.Add((submission, submission.Batch.Reply(items)));
        }
        return new WeekReports(before, new FoldedStream<StoreWeek>(before.Id, week, before.Version + events.Count),
            events, notes, answers, hasRefusal);

        Answer Take(Submission submission, FloorReport report)
        {
            var answer = week is null ? Refused.Missing("week", submission.Week)
                : report.Decide(week, EnteredBy).Match(happened => RefusalOf(submission, week, happened) is { } refusal
                    ? Refused.For(refusal) : Record(submission, report, happened), Refused.For);
            hasRefusal |= answer.IsRefusal;
            return answer;
        }

        Refusal? RefusalOf(Submission submission, StoreWeek known, IReadOnlyList<IWeekEvent> happened) =>
            submission.Request.Caller is { Role: Role.Crew } crew
                ? known.RefusalOfCorrection(happened, crew.Person, EnteredBy) : null;

        string? EnteredBy(string report) => enteredBy.GetValueOrDefault(report)
            ?? events.Find(recorded => recorded.Event is IFloorReport floor && floor.Report == report)
                ?.Submission.Request.Caller.Person;

        Answer Record(Submission submission, FloorReport report, IReadOnlyList<IWeekEvent> happened)
        {
            if (report.Note is { } note && happened.Count > 0)
                notes.Add(new Note(Note.IdOf(before.Id, before.Version + events.Count + 1), note));
            if (happened.Count > 0) notes.AddRange(report.Texts);
            events.AddRange(happened.Select(e => new Recorded(e, submission, report)));
            foreach (var e in happened) week = StoreWeek.Evolve(week, e);
            return (report.Reply?.Invoke(week!) ?? Answer.NoContent).WithVersion(before.Version + events.Count);
        }
    }
}
