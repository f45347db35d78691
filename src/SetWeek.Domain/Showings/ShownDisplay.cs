using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events.Nights;

namespace SetWeek.Domain.Showings;

/// <summary>
/// To whom a display was shown. What a lead records counts as it stands. What a person of the crew signs counts if whoever showed
/// it is a lead, or had been shown it by then: so every chain begins with a lead. It depends on the set of reports and not on the
/// order in which they arrived.
/// </summary>
/// <param name="Instructed">By person who was shown the display, or has shown it: how and since when.</param>
/// <param name="Leads">The people who have opened a night of the week, or have recorded a showing, as its lead.</param>
/// <param name="Unsupported">The reports that do not count, because whoever showed it had not been shown it by then.</param>
public sealed record ShownDisplay(
    IReadOnlyDictionary<string, Instruction> Instructed, IReadOnlySet<string> Leads, IReadOnlyList<DisplayShown> Unsupported)
{
    private const long SecondsOfMinute = 60;

    /// <param name="display">The id of a display.</param>
    public static ShownDisplay Of(StoreWeek week, string display)
    {
        var leads = week.NightReports.Values.SelectMany(reports => reports).OfType<NightOpened>().Select(opened => opened.By)
            .Concat(week.Showings.Where(shown => shown.ByLead).Select(shown => shown.By)).ToHashSet(StringComparer.Ordinal);
        var instructed = new Dictionary<string, Instruction>(StringComparer.Ordinal);
        var waiting = week.Showings.Where(shown => shown.Display == display).OrderBy(shown => shown.EffectiveAt().ToInstant())
            .ThenBy(shown => shown.Report, StringComparer.Ordinal).ToList();
        // Each round takes at least one report out of those that wait, so that the rounds end.
        while (waiting.FindAll(Counts) is { Count: > 0 } counting)
        {
            foreach (var shown in counting) Learn(shown);
            waiting.RemoveAll(counting.Contains);
        }
        return new ShownDisplay(instructed, leads, waiting);

        // What a round learns only makes the times earlier, so that a report that counts keeps counting.
        bool Counts(DisplayShown shown) => IsByLead(shown) || instructed.TryGetValue(shown.ShownBy, out var known)
            && IsBy(known.At.ToInstant(), shown.EffectiveAt().ToInstant());

        bool IsByLead(DisplayShown shown) => shown.ByLead || leads.Contains(shown.ShownBy);

        void Learn(DisplayShown shown)
        {
            var at = StoreTime.AtStore(week, shown.EffectiveAt());
            foreach (var person in shown.To)
                Add(person, new Instruction(at, shown.ShownBy, shown.By == person ? null : shown.By));
            if (IsByLead(shown)) Add(shown.ShownBy, new Instruction(at, null, null));
        }

        void Add(string person, Instruction known)
        {
            if (!instructed.TryGetValue(person, out var before) || known.At.ToInstant() < before.At.ToInstant())
                instructed[person] = known;
        }
    }

    /// <summary>The ids of those who belong on the list of a display: who is planned on its work, and who was shown it.</summary>
    public static IEnumerable<string> PeopleOf(StoreWeek week, string display)
    {
        var tasks = week.Week.Tasks.Where(task => task.Display == display).Select(task => task.Id).ToHashSet();
        return (week.Published?.Plan.Nights ?? []).SelectMany(night => night.Work)
            .Where(work => work.Task is { } task && tasks.Contains(task)).SelectMany(work => work.People)
            .Select(person => person.Person).Concat(Of(week, display).Instructed.Keys).Distinct();
    }

    /// <summary>Whether the person knew it by then.</summary>
    public bool IsKnownTo(string person, Instant at) =>
        Instructed.TryGetValue(person, out var known) && IsBy(known.At.ToInstant(), at);

    /// <summary>To the minute: the clocks of two phones may differ by seconds.</summary>
    private static bool IsBy(Instant known, Instant at) =>
        known.ToUnixTimeSeconds() / SecondsOfMinute <= at.ToUnixTimeSeconds() / SecondsOfMinute;
}

/// <summary>How somebody knows a display.</summary>
/// <param name="At">Since when.</param>
/// <param name="ShownBy">Who showed it; null for somebody who has shown it to others.</param>
/// <param name="RecordedBy">Who recorded it for the person; null where the person signed, or has shown it.</param>
public sealed record Instruction(OffsetDateTime At, string? ShownBy, string? RecordedBy);
