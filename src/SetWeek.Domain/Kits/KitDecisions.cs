using NodaTime;
using OneOf;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Kits;

/// <summary>What may become of a kit: expected, late, taken in, gone on without.</summary>
public static class KitDecisions
{
    public static OneOf<KitExpected, Refusal> ExpectKit(this StoreWeek week, string kit, LocalDateTime eta) =>
        NotYetIn(week, kit).Match<OneOf<KitExpected, Refusal>>(known => new KitExpected(known.Id, eta), refusal => refusal);

    public static OneOf<KitDelayed, Refusal> DelayKit(this StoreWeek week, string kit, LocalDateTime? eta) =>
        NotYetIn(week, kit).Match<OneOf<KitDelayed, Refusal>>(
            known => known.Eta is { } before && eta <= before
                ? new Refusal("not-later",
                    $"{known.Name} is due {Phrases.Time(before)}; {Phrases.Time(eta.Value)} is no delay. "
                    + "Say when it is expected instead.")
                : new KitDelayed(known.Id, eta),
            refusal => refusal);

    /// <summary>
    /// A fact, whatever was expected. None, if the report has come before; refused only where it names what the week does not
    /// have.
    /// </summary>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> KitIsIn(
        this StoreWeek week, string report, string kit, OffsetDateTime at, IReadOnlyList<CountedLine> lines)
    {
        if (Find(week, kit) is not { } known) return Refusal.NotFound("kit", kit);
        if (lines.FirstOrDefault(line => known.Lines.All(there => there.Item != line.Item)) is { } stranger)
        {
            var items = Phrases.List(known.Lines.Select(line => line.Item));
            return new Refusal("unknown-item", $"{known.Name} has no line \"{stranger.Item}\"; its list says {items}.");
        }
        if (week.Reports.Contains(report)) return Array.Empty<IWeekEvent>();
        var arrived = new KitArrived(report, kit, at);
        return lines.Count == 0 ? new IWeekEvent[] { arrived } : new IWeekEvent[] { arrived, new KitCounted(kit, at, lines) };
    }

    public static OneOf<KitLineSettled, Refusal> SettleLine(this StoreWeek week, string kit, string item)
    {
        if (Find(week, kit) is not { } known) return Refusal.NotFound("kit", kit);
        if (known.Lines.FirstOrDefault(line => line.Item == item) is not { } line) return Refusal.NotFound("item", item);
        if (line.Received is null)
            return new Refusal("not-counted", $"{item} of {known.Name} is not counted yet, so there is nothing to settle.");
        if (line.Settled) return new Refusal("settled-already", $"{item} of {known.Name} is settled already.");
        return new KitLineSettled(kit, item);
    }

    private static OneOf<Kit, Refusal> NotYetIn(StoreWeek week, string id)
    {
        if (Find(week, id) is not { } kit) return Refusal.NotFound("kit", id);
        return week.Arrivals.TryGetValue(id, out var at)
            ? new Refusal("kit-arrived",
                $"{kit.Name} came {Phrases.Time(StoreTime.Local(week, at))}; count what is missing instead.")
            : kit;
    }

    private static Kit? Find(StoreWeek week, string kit) => week.Week.Kits.FirstOrDefault(known => known.Id == kit);
}
