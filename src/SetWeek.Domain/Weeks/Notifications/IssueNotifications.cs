using System.Collections.Immutable;
using NodaTime;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Comparing;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Weeks.Notifications;

/// <summary>Whom an issue of the plan concerns, and who of them was told, has seen it and has answered.</summary>
/// <param name="Issue">The number of the issue.</param>
/// <param name="People">By id; without those who are erased.</param>
public sealed record IssueNotifications(int Issue, ImmutableSortedDictionary<string, PersonNotification> People)
{
    /// <summary>
    /// Compares the plan that is published with the one before it. Of the first plan everybody with a shift is told.
    /// </summary>
    /// <param name="before">The plan that was published until then; null for none.</param>
    public static IssueNotifications Of(Week week, int issue, PlanPublished published, Plan? before)
    {
        var known = before ?? NoPlan(published.Plan);
        var end = published.At is { } at && week.Rules.NoticeMinutes is { } notice
            ? at + Duration.FromMinutes(notice) : (Instant?)null;
        var shifts = ShiftDifferences.Between(known, published.Plan, shift => end is { } until && shift.From.ToInstant() < until)
            .OrderBy(change => (change.Now ?? change.Was)!.From.ToInstant()).ToList();
        return new IssueNotifications(issue,
            ReplanNotifications.For(week, known, published.Plan, shifts).ToImmutableSortedDictionary(
            notification => notification.Person,
            notification => new PersonNotification(notification.Person,
                [.. shifts.Where(change => change.Person == notification.Person)])
            {
                // Who publishes a plan has it before them.
                Seen = notification.Person == published.By ? published.At : null,
            },
            StringComparer.Ordinal));
    }

    /// <summary>A plan without shifts, for the comparison of the first one.</summary>
    public static Plan NoPlan(Plan plan) => new() { Week = plan.Week, Status = plan.Status };

    public IssueNotifications With(INotificationEvent e) => !People.TryGetValue(e.Person, out var person) ? this
        : this with { People = People.SetItem(e.Person, person.With(e)) };

    public IssueNotifications Without(string person) => this with { People = People.Remove(person) };
}

/// <summary>What an issue changes for a person, and what is known of their being told.</summary>
/// <param name="Shifts">Their shifts that change, by start; empty if only their work changes.</param>
public sealed record PersonNotification(string Person, IReadOnlyList<ShiftChange> Shifts)
{
    /// <summary>Each time that somebody told them.</summary>
    public ImmutableList<PersonTold> Told { get; init; } = [];

    /// <summary>When they first opened it.</summary>
    public Instant? Seen { get; init; }

    /// <summary>Their last answer.</summary>
    public ChangesAnswered? Answer { get; init; }

    /// <summary>
    /// Whether a shift changes that begins within the notice period of the week's rules, from the publication on.
    /// </summary>
    public bool IsAtShortNotice => Shifts.Any(change => change.AtShortNotice);

    /// <summary>Whether nobody has told them and they have not seen it.</summary>
    public bool IsUninformed => Told.Count == 0 && Seen is null;

    public PersonNotification With(INotificationEvent e) => e switch
    {
        PersonTold told => this with { Told = Told.Add(told) },
        TellingRetracted => this with { Told = [] },
        ChangesSeen seen => this with { Seen = Seen ?? seen.At },
        // Whoever answers has seen it; a lead who records an answer for them cannot know that.
        ChangesAnswered answer => this with { Answer = answer, Seen = Seen ?? (answer.By == Person ? answer.At : null) },
        _ => throw new ArgumentException($"No state follows from {e.GetType().Name}; add its case.", nameof(e)),
    };
}
