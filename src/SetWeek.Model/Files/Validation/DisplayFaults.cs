using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>Finds alternates that replace themselves, have an alternate, or serve two displays.</summary>
internal static class DisplayFaults
{
    public static IEnumerable<Fault> Of(Week week)
    {
        var withAlternate = week.Displays.Where(display => display.Alternate is not null)
            .Select(display => display.Id).ToHashSet();
        var displayOf = new Dictionary<string, string>();
        foreach (var (index, display) in week.Displays.Index())
        {
            if (display.Alternate?.Display is not { Length: > 0 } alternate) continue;
            var at = $"/displays/{index}/alternate/display";
            if (alternate == display.Id)
                yield return new Fault(at,
                    "A display cannot be its own alternate; name another display, or remove the alternate.");
            else if (withAlternate.Contains(alternate))
                yield return new Fault(at, $"{FaultNames.Display(week, alternate)} has an alternate itself, which an alternate "
                    + "cannot have; remove one of the two.");
            if (!displayOf.TryAdd(alternate, display.Id) && alternate != display.Id)
                yield return new Fault(at, $"{FaultNames.Display(week, alternate)} is already the alternate of "
                    + $"{FaultNames.Display(week, displayOf[alternate])}; give each display its own.");
        }
    }
}
