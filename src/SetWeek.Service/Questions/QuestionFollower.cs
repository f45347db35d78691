using Marten;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Following;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Questions;

/// <summary>Keeps the list of the chain's questions from the states of the weeks in which one was asked or answered.</summary>
public sealed class QuestionFollower : IFollower
{
    private static readonly string[] Followed =
        [StoredEvents.Names[typeof(QuestionAsked)], StoredEvents.Names[typeof(QuestionAnswered)]];

    public const string FollowerName = "questions";

    public string Name => FollowerName;

    public IReadOnlyList<string> Ignored { get; } = [.. StoredEvents.Names.Values.Except(Followed)];

    public async Task Follow(IDocumentSession session, IReadOnlyList<FeedEntry> entries, CancellationToken cancelled)
    {
        foreach (var stream in entries.Select(entry => entry.Stream).Distinct())
        {
            var read = await Streams.Week(session, stream[Streams.WeekKey("").Length..], cancelled);
            if (read.State is not { } week) continue;
            foreach (var question in week.Questions.Values) StoredQuestion.Of(week, question).Write(session, read.Version);
        }
    }
}
