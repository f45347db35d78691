using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events.Nights;

namespace SetWeek.Domain.Nights;

/// <summary>
/// What is recorded of a night: when it was opened and closed, and who is in the store. It depends on the set of reports and not
/// on the order in which they arrived.
/// </summary>
/// <param name="Opened">The first opening; null if the night is not opened.</param>
/// <param name="Closed">The last closing; null if the night is not closed.</param>
/// <param name="People">By person who was ever there: whether the person is there now, and since when that is so.</param>
public sealed record NightRecord(NightOpened? Opened, NightClosed? Closed, IReadOnlyDictionary<string, Presence> People)
{
    /// <summary>The ids of the people in the store, in the order in which they came.</summary>
    public IReadOnlyList<string> Inside =>
        [.. People.Where(person => person.Value.IsHere).OrderBy(person => person.Value.Since.ToInstant())
            .ThenBy(person => person.Key, StringComparer.Ordinal).Select(person => person.Key)];

    /// <param name="night">The id of a night of the week.</param>
    public static NightRecord Of(StoreWeek week, string night)
    {
        var reports = week.NightReports.GetValueOrDefault(night, []).OrderBy(report => report.EffectiveAt().ToInstant())
            .ThenBy(report => report.StatedAt().ToInstant()).ThenBy(report => report.Report, StringComparer.Ordinal).ToList();
        var people = new SortedDictionary<string, Presence>(StringComparer.Ordinal);
        foreach (var report in reports)
            foreach (var (person, isHere) in MovesOf(report))
                if (people.GetValueOrDefault(person)?.IsHere != isHere)
                    people[person] = new Presence(isHere, StoreTime.AtStore(week, report.EffectiveAt()));
        return new NightRecord(
            reports.OfType<NightOpened>().FirstOrDefault(), reports.OfType<NightClosed>().LastOrDefault(), people);
    }

    private static IEnumerable<(string Person, bool IsHere)> MovesOf(INightReport report) => report switch
    {
        NightOpened opened => opened.Here.Select(person => (person, true)),
        PersonCame came => [(came.Person, true)],
        PersonLeft left => [(left.Person, false)],
        NightClosed closed => closed.Out.Select(person => (person, false)),
        _ => throw new ArgumentException($"{report.GetType().Name} does not say who is there; add its case.", nameof(report)),
    };
}

/// <param name="IsHere">Whether the person is in the store.</param>
/// <param name="Since">When the person came, or left.</param>
public sealed record Presence(bool IsHere, OffsetDateTime Since);
