using System.Globalization;
using NodaTime;
using OneOf;
using SetWeek.Domain.Reports;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Kits;

/// <summary>The decisions on a kit: expect it, delay it, record its arrival, settle a line.</summary>
public static class KitDecisions
{
    /// <summary>Sets when a kit is expected or, once it has arrived, when its uncounted lines will be counted.</summary>
    public static OneOf<KitExpected, Refusal> ExpectKit(this StoreWeek week, string kit, LocalDateTime eta) =>
        TooEarly(week, eta) is { } tooEarly ? tooEarly
            : Find(week, kit) is { } arrived && week.Arrivals.ContainsKey(kit) && arrived.Lines.Any(KitCounts.IsUncounted)
            ? new KitExpected(kit, eta)
            : FindNotArrived(week, kit).Match<OneOf<KitExpected, Refusal>>(
                found => new KitExpected(found.Id, eta), refusal => refusal);

    public static OneOf<KitDelayed, Refusal> DelayKit(this StoreWeek week, string kit, LocalDateTime? eta) =>
        FindNotArrived(week, kit).Match<OneOf<KitDelayed, Refusal>>(
            found => found.Eta is { } before && eta <= before
                ? new Refusal("not-later",
                    $"“{found.Name}” is expected {Phrases.Time(before)}, and {Phrases.Time(eta.Value)} is not later. "
                    + "Set a new expected time instead.")
                : eta is { } after && TooEarly(week, after) is { } tooEarly ? tooEarly
                : new KitDelayed(found.Id, eta),
            refusal => refusal);

    /// <summary>
    /// Records the arrival of a kit. A report is a fact, so it is refused only if it names an unknown kit or item.
    /// </summary>
    /// <param name="time">When it arrived.</param>
    /// <param name="complete">A lead confirms that every line is complete that is not counted, here or before.</param>
    /// <param name="by">The id of whoever counted.</param>
    /// <returns>The events; none for a repeated report.</returns>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> KitIsIn(
        this StoreWeek week, string report, string kit, ReportTime time, IReadOnlyList<CountedLine> lines,
        bool complete = false, string? corrects = null, string? by = null)
    {
        if (Find(week, kit) is not { } found) return Refusal.NotFound("kit", kit);
        if (lines.FirstOrDefault(line => found.Lines.All(listed => listed.Item != line.Item)) is { } unknown)
        {
            var items = Phrases.List(found.Lines.Select(line => line.Item));
            return new Refusal("unknown-item", $"“{found.Name}” has no line \"{unknown.Item}\". Its lines: {items}.");
        }
        var recorded = week.Recorded(new KitArrived(report, kit, time.At, time.Clock, corrects), lines);
        if (recorded.TryPickT1(out var refusal, out var arrived)) return refusal;
        if (arrived is null) return Array.Empty<IWeekEvent>();
        var others = found.Lines.Where(line => complete && KitCounts.IsUncounted(line)
            && lines.All(counted => counted.Item != line.Item));
        CountedLine[] confirmed = [.. others.Select(line => new CountedLine(line.Item, line.Expected, 0))];
        List<IWeekEvent> events = [arrived];
        if (lines.Count > 0) events.Add(new KitCounted(kit, time.At, lines, Report: report, Clock: time.Clock, By: by));
        if (confirmed.Length > 0)
            events.Add(new KitCounted(kit, time.At, confirmed, Confirmed: true, Report: report, Clock: time.Clock, By: by));
        return events;
    }

    public static OneOf<KitLineSettled, Refusal> SettleLine(this StoreWeek week, string kit, string item)
    {
        if (Find(week, kit) is not { } found) return Refusal.NotFound("kit", kit);
        if (found.Lines.FirstOrDefault(line => line.Item == item) is not { } line) return Refusal.NotFound("item", item);
        if (line.Received is null)
            return new Refusal("not-counted", $"“{IdWords.Spaced(item)}” of “{found.Name}” is not counted yet; count it first.");
        if (line.Settled)
            return new Refusal("settled-already", $"“{IdWords.Spaced(item)}” of “{found.Name}” is already settled.");
        return new KitLineSettled(kit, item);
    }

    /// <summary>
    /// Whether a time is a mistake in the year: the same day of the next year is nearer to the first night. The planner would
    /// take a kit that is expected then as being there.
    /// </summary>
    /// <returns>Null if the time may be right.</returns>
    private static Refusal? TooEarly(StoreWeek week, LocalDateTime eta) =>
        week.Week.Nights is [var first, ..] && eta.PlusMonths(6) < first.Opens
            ? new Refusal("too-early",
                $"{eta.ToString("MMMM uuuu", CultureInfo.InvariantCulture)} is more than half a year before "
                + "the first night of the week. Check the year.")
            : null;

    private static OneOf<Kit, Refusal> FindNotArrived(StoreWeek week, string id)
    {
        if (Find(week, id) is not { } kit) return Refusal.NotFound("kit", id);
        return week.Arrivals.TryGetValue(id, out var arrival)
            ? new Refusal("kit-arrived",
                $"“{kit.Name}” arrived {Phrases.Time(StoreTime.Local(week, arrival))}. Report a count of what is missing "
                    + "instead.")
            : kit;
    }

    private static Kit? Find(StoreWeek week, string kit) => week.Week.Kits.FirstOrDefault(found => found.Id == kit);
}
