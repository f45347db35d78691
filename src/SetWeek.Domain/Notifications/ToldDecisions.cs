using NodaTime;
using OneOf;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Notifications;

namespace SetWeek.Domain.Notifications;

/// <summary>The decisions to record who was told of the published plan, who has seen it and who agrees.</summary>
public static class ToldDecisions
{
    /// <summary>Records that a lead told people what an issue changes for them.</summary>
    /// <param name="issue">The issue that the lead read; null: the published one.</param>
    /// <param name="people">The ids of the people.</param>
    /// <param name="at">When they were told.</param>
    /// <param name="now">By the clock of planning.</param>
    /// <param name="by">The id of the lead.</param>
    /// <returns>An event for each of them, without those that are recorded already.</returns>
    public static OneOf<IReadOnlyList<PersonTold>, Refusal> Tell(
        this StoreWeek week, CrewFile crew, int? issue, IReadOnlyList<string> people, ToldHow how, Instant at, Instant now,
        string by)
    {
        if (Current(week, issue).TryPickT1(out var refusal, out var current)) return refusal;
        if (people.Count == 0) return new Refusal("nobody", "Nobody is named. Pick who was told.");
        if (at > now) return new Refusal("in-future", "This time is still to come. Give the time at which you told them.");
        if (week.Published!.Issue.At is { } published)
        {
            // Times are given in whole minutes.
            if (at < published - Duration.FromMinutes(1))
                return new Refusal("before-issue", $"Issue {current.Issue} was published "
                    + $"{Phrases.Time(StoreTime.Local(week, published))}. Give a time after it.");
            at = Instant.Max(at, published);
        }
        var told = new List<PersonTold>();
        foreach (var person in people.Distinct())
        {
            if (Find(crew, current, person).TryPickT1(out refusal, out var known)) return refusal;
            var telling = new PersonTold(current.Issue, person, how, at, by);
            if (!known.Told.Contains(telling)) told.Add(telling);
        }
        return told;
    }

    /// <summary>Takes back that a person was told.</summary>
    public static OneOf<TellingRetracted, Refusal> RetractTelling(
        this StoreWeek week, CrewFile crew, int? issue, string person, string by)
    {
        if (Current(week, issue).TryPickT1(out var refusal, out var current)) return refusal;
        if (Find(crew, current, person).TryPickT1(out refusal, out var known)) return refusal;
        return known.Told.Count > 0 ? new TellingRetracted(current.Issue, person, by)
            : new Refusal("not-told", $"Nobody has recorded that {crew.NameOf(person)} was told of issue {current.Issue}.");
    }

    /// <summary>Records that a person has opened a page which shows what the published issue changes for them.</summary>
    /// <returns>Null if it changes nothing for them, or they have seen it before.</returns>
    public static ChangesSeen? See(this StoreWeek week, string person, Instant at) =>
        week.Published is { Issue.Number: var issue } && week.Notifications.TryGetValue(issue, out var current)
        && current.People.TryGetValue(person, out var known) && known.Seen is null ? new ChangesSeen(issue, person, at) : null;

    /// <summary>
    /// The published issue, if it changes a shift of the person and they have neither agreed nor said that they cannot; else
    /// null. The first issue is left out: nobody had a shift before it.
    /// </summary>
    public static int? IssueToAnswer(this StoreWeek week, string person) =>
        week.Published is { Issue.Number: > 1 and var issue } && week.Notifications.TryGetValue(issue, out var current)
        && current.People.TryGetValue(person, out var known) && known.Shifts.Count > 0
        && known.Answer is not { Answer: ChangesAnswer.Agreed or ChangesAnswer.Declined } ? issue : null;

    /// <summary>Records the answer of a person, which they give themselves or a lead records for them.</summary>
    /// <param name="by">The id of whoever records it.</param>
    /// <returns>The event; none for an answer that is recorded already.</returns>
    public static OneOf<IReadOnlyList<ChangesAnswered>, Refusal> AnswerChanges(
        this StoreWeek week, CrewFile crew, int? issue, string person, ChangesAnswer answer, Instant at, string by)
    {
        if (Current(week, issue).TryPickT1(out var refusal, out var current)) return refusal;
        if (Find(crew, current, person).TryPickT1(out refusal, out var known)) return refusal;
        if (answer == ChangesAnswer.Seen && by != person)
            return new Refusal("theirs-to-say",
                $"Only {crew.NameOf(person)} can say that. Record that you told {crew.NameOf(person)} instead.");
        return known.Answer is { } before && before.Answer == answer && before.By == by ? Array.Empty<ChangesAnswered>()
            : new[] { new ChangesAnswered(current.Issue, person, answer, at, by) };
    }

    /// <summary>The notifications of the published issue.</summary>
    private static OneOf<IssueNotifications, Refusal> Current(StoreWeek week, int? issue)
    {
        if (week.Published is not { Issue.Number: var number })
            return new Refusal("nothing-published", "No plan of this week is published yet, so there is nothing to tell.");
        return issue is { } read && read != number
            ? new Refusal("another-issue", $"The published plan is issue {number}, and this is about issue {read}. "
                + "Load the page again, and read what changes now.")
            : week.Notifications[number];
    }

    private static OneOf<PersonNotification, Refusal> Find(CrewFile crew, IssueNotifications current, string person) =>
        current.People.TryGetValue(person, out var known) ? known
        : crew.Find(person) is null ? Refusal.NotFound("person", person)
        : new Refusal("nothing-changes", $"Issue {current.Issue} changes nothing for {crew.NameOf(person)}.");
}
