using SetWeek.Domain.Directions;
using SetWeek.Domain.Kits;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Revisions;

/// <summary>
/// Compares the kits of two weeks. What is shipped, when it is expected and which short lines are settled are decisions. What has
/// come is a fact, which is reported and not decided.
/// </summary>
internal static class KitComparison
{
    public static PartialComparison Of(StoreWeek week, Week before, Week after)
    {
        var (events, faults, refusals) = (new List<IWeekEvent>(), new List<Fault>(), new List<Refusal>());
        var known = before.Kits.ToDictionary(kit => kit.Id);
        foreach (var (index, kit) in after.Kits.Index())
        {
            var was = known.GetValueOrDefault(kit.Id);
            faults.AddRange(CountFaults($"/kits/{index}/lines", was, kit));
            if (was is null || was.Name != kit.Name || !Shipped(was).SequenceEqual(Shipped(kit)))
                events.Add(new KitSet(kit.Id, kit.Name, [.. Shipped(kit)]));
            if (was is null)
            {
                if (kit.Eta is { } eta) events.Add(new KitExpected(kit.Id, eta));
                continue;
            }
            if (kit.Eta != was.Eta)
                (kit.Eta is { } eta && !(was.Eta < eta) ? week.ExpectKit(kit.Id, eta).MapT0(IWeekEvent (KitExpected e) => e)
                    : week.DelayKit(kit.Id, kit.Eta).MapT0(IWeekEvent (KitDelayed e) => e)).Switch(events.Add, refusals.Add);
            foreach (var line in kit.Lines.Where(line => line.Settled && LineOf(was, line.Item) is { Settled: false }))
                week.SettleLine(kit.Id, line.Item).Switch(events.Add, refusals.Add);
        }
        foreach (var kit in before.Kits.ExceptBy(after.Kits.Select(kit => kit.Id), kit => kit.Id))
            if (week.Arrivals.ContainsKey(kit.Id))
                refusals.Add(new Refusal("kit-arrived", $"“{kit.Name}” has arrived, so the week keeps it."));
            else events.Add(new KitDropped(kit.Id));
        return new PartialComparison(events, faults, refusals);
    }

    private static IEnumerable<DirectedLine> Shipped(Kit kit) =>
        kit.Lines.Select(line => new DirectedLine(line.Item, line.Expected));

    private static KitLine? LineOf(Kit? kit, string item) => kit?.Lines.FirstOrDefault(line => line.Item == item);

    private static IEnumerable<Fault> CountFaults(string at, Kit? was, Kit kit)
    {
        foreach (var (index, line) in kit.Lines.Index())
        {
            var counted = LineOf(was, line.Item) ?? new KitLine(line.Item, line.Expected);
            if (line.Received != counted.Received || line.Damaged != counted.Damaged)
                yield return new Fault($"{at}/{index}/received",
                    $"What was counted of “{IdWords.Spaced(line.Item)}” is a fact; report the count of “{kit.Name}” instead.");
            if (counted.Settled && !line.Settled)
                yield return new Fault($"{at}/{index}/settled",
                    $"“{IdWords.Spaced(line.Item)}” of “{kit.Name}” is settled; take that decision back instead.");
        }
    }
}
