using System.Globalization;
using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Model.Comparing;

namespace SetWeek.Domain.Notifications;

/// <summary>Of an issue of the plan: whom it concerns, who was told, who has seen it, who agrees.</summary>
/// <param name="Issue">1 for the first plan of the week that was published, 2 for the next.</param>
/// <param name="IsCurrent">Whether it is the plan by which the store works.</param>
/// <param name="PublishedBy">The id of the person; null if it was published before this was recorded.</param>
/// <param name="PublishedAt">As for <paramref name="PublishedBy"/>.</param>
/// <param name="NoticeMinutes">The notice period of the week's rules; null if they have none.</param>
/// <param name="People">Those whose shifts change, then those whose work changes; each by first changed shift and name.</param>
/// <param name="Earlier">The issues before it in which somebody is neither told nor has seen it, the first one first.</param>
public sealed record ToldReport(
    int Issue, bool IsCurrent, string Plan, string? PublishedBy, OffsetDateTime? PublishedAt, int? NoticeMinutes,
    ToldCounts Counts, IReadOnlyList<ToldPerson> People, IReadOnlyList<EarlierIssue> Earlier)
{
    /// <summary>
    /// A record of what was said is no legal act. Laws and codes differ from place to place (fair work week laws).
    /// </summary>
    public const string Consent =
        "Some places ask for a person's written consent to a shift that changes inside the notice period, or for extra pay. "
        + "Local law, local codes and contracts come first. What is recorded here is what people said: it is no written consent, "
        + "and no advice.";

    /// <param name="issue">The number of the issue; null: the published one.</param>
    /// <returns>Null if there is no such issue.</returns>
    public static ToldReport? Of(StoreWeek week, CrewFile crew, int? issue = null)
    {
        if (week.Published is not { } published) return null;
        var number = issue ?? published.Issue.Number;
        if (!week.Notifications.TryGetValue(number, out var found)) return null;
        var facts = published.Earlier.Append(published.Issue).First(known => known.Number == number);
        var sentences = SentencesOf(week, published, found);
        return new ToldReport(number, number == published.Issue.Number, facts.Plan, facts.By, At(week, facts.At),
            week.Week.Rules.NoticeMinutes, ToldCounts.Of(found),
            [.. found.People.Values
                .Select(person => PersonOf(week, crew, facts.At, person, sentences.GetValueOrDefault(person.Person, [])))
                .OrderBy(person => !person.ShiftsChange).ThenBy(person => person.FirstShift?.ToInstant() ?? Instant.MaxValue)
                .ThenBy(person => person.Name, StringComparer.Ordinal)],
            [.. week.Notifications.Values.Where(other => other.Issue < number)
                .Select(other => new EarlierIssue(other.Issue, ToldCounts.Of(other).Uninformed))
                .Where(other => other.Uninformed > 0)]);
    }

    /// <summary>By person: what changes. Of an issue that was replaced only the shifts are known.</summary>
    private static Dictionary<string, IReadOnlyList<string>> SentencesOf(
        StoreWeek week, PublishedPlan published, IssueNotifications found)
    {
        var none = IssueNotifications.NoPlan(published.Plan);
        var (before, after) = found.Issue == published.Issue.Number ? (published.Replaced ?? none, published.Plan) : (none, none);
        var shifts = found.People.Values.SelectMany(person => person.Shifts).ToList();
        return ReplanNotifications.For(week.Week, before, after, shifts)
            .ToDictionary(notification => notification.Person, notification => notification.Sentences);
    }

    private static ToldPerson PersonOf(
        StoreWeek week, CrewFile crew, Instant? published, PersonNotification person, IReadOnlyList<string> sentences)
    {
        var first = person.Shifts.Where(change => change.AtShortNotice).Select(change => StartOf(change))
            .OrderBy(start => start.ToInstant()).Select(start => (OffsetDateTime?)start).FirstOrDefault();
        return new ToldPerson(person.Person, crew.Find(person.Person)?.Name ?? person.Person, sentences, person.Shifts.Count > 0,
            person.IsAtShortNotice,
            first is { } start && published is { } at && week.Week.Rules.NoticeMinutes is { } notice
                ? $"The first changed shift begins {Day(start.LocalDateTime)}, {Length(start.ToInstant() - at)} after the plan "
                    + $"was published. The rules of this week ask for {Length(Duration.FromMinutes(notice))}."
                : null,
            [.. person.Told.Select(told => new ToldTelling(told.How, At(week, told.At)!.Value, told.By))],
            At(week, person.Seen),
            person.Answer is { } answer
                ? new ToldAnswer(answer.Answer, At(week, answer.At)!.Value, answer.By != person.Person, answer.By) : null,
            person.Shifts.Count == 0 ? null : StartOf(person.Shifts[0]));
    }

    /// <summary>The start that counts for the notice: a shift that was to begin earlier was to be changed earlier.</summary>
    private static OffsetDateTime StartOf(ShiftChange change) => (change.Was, change.Now) switch
    {
        ({ } was, { } now) => was.From.ToInstant() < now.From.ToInstant() ? was.From : now.From,
        var (was, now) => (was ?? now)!.From,
    };

    private static string Day(LocalDateTime time) => time.ToString("dddd d MMMM, HH:mm", CultureInfo.InvariantCulture);

    /// <summary>"4 days", "79 hours", "40 minutes": whole days, else whole hours, rounded down.</summary>
    private static string Length(Duration length) => length switch
    {
        _ when length < Duration.Zero => "0 minutes",
        _ when length.TotalMinutes < 60 => Count((int)length.TotalMinutes, "minute"),
        _ when length.TotalMinutes % (24 * 60) == 0 => Count((int)length.TotalDays, "day"),
        _ => Count((int)length.TotalHours, "hour"),
    };

    private static string Count(int number, string unit) => $"{number} {unit}{(number == 1 ? "" : "s")}";

    private static OffsetDateTime? At(StoreWeek week, Instant? time) => time?.InZone(StoreTime.ZoneOf(week)).ToOffsetDateTime();
}

/// <summary>How many people an issue concerns.</summary>
/// <param name="People">Those for whom something changes.</param>
/// <param name="AboutShifts">Those of them whose shifts change.</param>
/// <param name="AtShortNotice">Those of them with a shift that changes inside the notice period.</param>
/// <param name="Told">Those whom somebody told.</param>
/// <param name="Seen">Those who have opened it.</param>
/// <param name="Agreed">Those who agreed, or for whom a lead recorded it.</param>
/// <param name="Declined">Those who cannot.</param>
/// <param name="Uninformed">Those who are neither told nor have seen it.</param>
public sealed record ToldCounts(
    int People, int AboutShifts, int AtShortNotice, int Told, int Seen, int Agreed, int Declined, int Uninformed)
{
    public static ToldCounts Of(IssueNotifications issue)
    {
        var people = issue.People.Values.ToList();
        return new ToldCounts(people.Count, people.Count(person => person.Shifts.Count > 0),
            people.Count(person => person.IsAtShortNotice), people.Count(person => person.Told.Count > 0),
            people.Count(person => person.Seen is not null),
            people.Count(person => person.Answer?.Answer == ChangesAnswer.Agreed),
            people.Count(person => person.Answer?.Answer == ChangesAnswer.Declined), people.Count(person => person.IsUninformed));
    }
}

/// <summary>What an issue changes for a person, and what is known of their being told.</summary>
/// <param name="Sentences">One for each night that changes, as one would say it to them.</param>
/// <param name="Notice">How long before the first shift that changes at short notice the plan was published.</param>
/// <param name="Told">Each time that somebody told them.</param>
/// <param name="Seen">When they first opened it.</param>
public sealed record ToldPerson(
    string Person, string Name, IReadOnlyList<string> Sentences, bool ShiftsChange, bool AtShortNotice, string? Notice,
    IReadOnlyList<ToldTelling> Told, OffsetDateTime? Seen, ToldAnswer? Answer, OffsetDateTime? FirstShift);

/// <param name="By">The id of the lead.</param>
public sealed record ToldTelling(ToldHow How, OffsetDateTime At, string By);

/// <param name="ForThem">Whether a lead recorded it for the person.</param>
/// <param name="By">The id of whoever recorded it.</param>
public sealed record ToldAnswer(ChangesAnswer Answer, OffsetDateTime At, bool ForThem, string By);

/// <summary>An earlier issue of which somebody knows nothing.</summary>
/// <param name="Uninformed">How many people are neither told of it nor have seen it.</param>
public sealed record EarlierIssue(int Issue, int Uninformed);
