using NodaTime;
using NodaTime.Text;
using SetWeek.Model.Time;

namespace SetWeek.Model.Tests.Time;

/// <summary>
/// Nights with a clock change, compared with the IANA tz database as another library reads it (tzdata 2025b, checked with
/// zdump): windows in 37 zones, 2025 to 2028. Noda Time has a newer database. Where a zone's rules differ between the two, the
/// test leaves out the nights after the change.
/// </summary>
public class NightLengthTests
{
    /// <summary>
    /// Zones whose nights differ between 2025b and 2026f, with a date before which they agree (found by this comparison).
    /// </summary>
    private static readonly Dictionary<string, LocalDate> ChangedSince = new()
    {
        ["Africa/Casablanca"] = new(2026, 10, 1),
        ["America/Havana"] = new(2026, 10, 1),
    };

    public static TheoryData<string> Zones =>
        OpenData.Folder is null ? new("none") : new(Rows().Select(row => row[0]).Distinct());

    [OpenDataTheory("timezones/night_lengths_2025_2028.csv"), MemberData(nameof(Zones))]
    public void The_length_of_a_night_counts_elapsed_time_over_a_clock_change(string zone)
    {
        foreach (var row in Rows().Where(row => row[0] == zone))
        {
            var date = LocalDatePattern.Iso.Parse(row[1]).Value;
            if (ChangedSince.TryGetValue(zone, out var since) && date >= since) continue;
            var (opens, closes) = (At(date, row[2]), At(date, row[3]));
            if (closes <= opens) closes = closes.PlusDays(1);
            var grid = new Grid(zone, opens, 5);
            Assert.Equal((row[1], row[2], int.Parse(row[5], System.Globalization.CultureInfo.InvariantCulture)),
                (row[1], row[2], grid.MinuteOf(closes)));
        }
    }

    private static LocalDateTime At(LocalDate date, string time) =>
        date + LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(time).Value;

    private static IEnumerable<string[]> Rows() =>
        File.ReadLines(OpenData.PathOf("timezones/night_lengths_2025_2028.csv")).Skip(1).Select(line => line.Split(','));
}
