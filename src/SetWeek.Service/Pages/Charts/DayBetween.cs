using SetWeek.Model.Plans;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages.Charts;

/// <summary>The time between two nights: what dries or is closed in it, and the kits that arrive.</summary>
/// <param name="Length">Elapsed minutes from the close of the one to the opening of the other.</param>
/// <param name="Rows">At least one.</param>
public sealed record DayBetween(int Length, IReadOnlyList<DayBetween.Item> Items, int Rows)
{
    /// <param name="Span">Minutes since the night before closed; a kit arrives at a point.</param>
    public sealed record Item(Span Span, string Text, bool IsKit, int Row);

    /// <summary>Rows leave room for a text beside each item: a third of the strip.</summary>
    private const int RoomForText = 3;

    public static DayBetween Of(Week week, IReadOnlyList<PlannedNight> nights, PlannedNight before, PlannedNight after)
    {
        var words = new WeekLabels(week);
        if (words.Night(before.Night) is not { } first || words.Night(after.Night) is not { } second) return new(0, [], 1);
        var grid = new Grid(week.Store.TimeZone, first.Closes, week.GridMinutes);
        var day = new Span(0, Math.Max(0, grid.MinuteOf(second.Opens)));
        var rests = ZoneRest.Of(week, nights).Select(rest => (
                Span: new Span(grid.MinuteOf(rest.From), grid.MinuteOf(rest.To)).Clip(day),
                Text: $"{ZoneName(rest.Zone)} {(rest.IsClosed ? "closed" : "dries")} until {ZoneRest.DayAndTime(rest.To)}",
                IsKit: false))
            .Where(rest => rest.Span.Minutes > 0);
        var kits = week.Kits.Where(kit => kit.Eta is not null).Select(kit => (At: grid.MinuteOf(kit.Eta!.Value), Kit: kit))
            .Where(kit => day.From <= kit.At && kit.At < day.To)
            .Select(kit => (Span: new Span(kit.At, kit.At), Text: $"{WeekLabels.Time(kit.Kit.Eta!.Value)} {kit.Kit.Name} in",
                IsKit: true));
        var items = rests.Concat(kits).OrderBy(item => item.Span.From).ThenBy(item => item.Text, StringComparer.Ordinal).ToList();
        var room = Math.Max(1, day.To / RoomForText);
        var rows = RowPacking.Of([.. items.Select(item => item.Span with { To = item.Span.To + room })]);
        return new(day.To, [.. items.Select((item, index) => new Item(item.Span, item.Text, item.IsKit, rows[index]))],
            rows.DefaultIfEmpty(0).Max() + 1);

        string ZoneName(string id) => week.Store.Zones.FirstOrDefault(zone => zone.Id == id)?.Name ?? id;
    }
}
