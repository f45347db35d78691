using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events.Nights;

namespace SetWeek.Domain.Showings;

/// <summary>
/// To whom a display was shown. What a lead records counts as it stands. What a person of the crew signs counts if whoever showed
/// it is a lead, or has been shown it: so every chain begins with a lead. It depends on the set of reports and not on the order
/// in which they arrived.
/// </summary>
/// <param name="Knowing">By person who was shown the display, or has shown it: how and since when.</param>
/// <param name="Leads">The people who have opened a night of the week, or have recorded a showing, as its lead.</param>
/// <param name="Doubted">The reports that do not count, because whoever showed it was not shown it.</param>
public sealed record ShownDisplay(
    IReadOnlyDictionary<string, Knowledge> Knowing, IReadOnlySet<string> Leads, IReadOnlyList<DisplayShown> Doubted)
{
    private const long SecondsOfMinute = 60;

    /// <param name="display">The id of a display.</param>
    public static ShownDisplay Of(StoreWeek week, string display)
    {
        var leads = week.NightReports.Values.SelectMany(reports => reports).OfType<NightOpened>().Select(opened => opened.By)
            .Concat(week.Showings.Where(shown => shown.ByLead).Select(shown => shown.By)).ToHashSet(StringComparer.Ordinal);
        var knowing = new Dictionary<string, Knowledge>(StringComparer.Ordinal);
        var waiting = week.Showings.Where(shown => shown.Display == display).OrderBy(shown => shown.EffectiveAt().ToInstant())
            .ThenBy(shown => shown.Report, StringComparer.Ordinal).ToList();
        // A person is added at most once for each round, so that the rounds end.
        while (waiting.FindAll(Counts) is { Count: > 0 } counting)
        {
            foreach (var shown in counting) Learn(shown);
            waiting.RemoveAll(counting.Contains);
        }
        return new ShownDisplay(knowing, leads, waiting);

        bool Counts(DisplayShown shown) => shown.ByLead || leads.Contains(shown.ShownBy) || knowing.ContainsKey(shown.ShownBy);

        void Learn(DisplayShown shown)
        {
            var at = StoreTime.AtStore(week, shown.EffectiveAt());
            foreach (var person in shown.To)
                Add(person, new Knowledge(at, shown.ShownBy, shown.By == person ? null : shown.By));
            Add(shown.ShownBy, new Knowledge(at, null, null));
        }

        void Add(string person, Knowledge known)
        {
            if (!knowing.TryGetValue(person, out var before) || known.At.ToInstant() < before.At.ToInstant())
                knowing[person] = known;
        }
    }

    /// <summary>Whether somebody may show the display to others.</summary>
    public bool MayShow(string person) => Leads.Contains(person) || Knowing.ContainsKey(person);

    /// <summary>Whether the person knew it by then, to the minute: the clocks of two phones may differ by seconds.</summary>
    public bool IsKnownTo(string person, Instant at) => Knowing.TryGetValue(person, out var known)
        && known.At.ToInstant().ToUnixTimeSeconds() / SecondsOfMinute <= at.ToUnixTimeSeconds() / SecondsOfMinute;
}

/// <summary>How somebody knows a display.</summary>
/// <param name="At">Since when.</param>
/// <param name="ShownBy">Who showed it; null for somebody who has shown it to others.</param>
/// <param name="RecordedBy">Who recorded it for the person; null where the person signed, or has shown it.</param>
public sealed record Knowledge(OffsetDateTime At, string? ShownBy, string? RecordedBy);
