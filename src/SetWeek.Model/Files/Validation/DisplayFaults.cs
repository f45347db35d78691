using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>Alternates that replace themselves, replace an alternate, or are promised to two displays.</summary>
internal static class DisplayFaults
{
    public static IEnumerable<Fault> Of(Week week)
    {
        var having = week.Displays.Where(display => display.Alternate is not null).Select(display => display.Id).ToHashSet();
        var taken = new Dictionary<string, string>();
        foreach (var (index, display) in week.Displays.Index())
        {
            if (display.Alternate?.Display is not { Length: > 0 } alternate) continue;
            var at = $"/displays/{index}/alternate/display";
            if (alternate == display.Id)
                yield return new Fault(at, "A display cannot stand in for itself; name another, or drop the alternate.");
            else if (having.Contains(alternate))
                yield return new Fault(at, $"{QuotedInput.Of(alternate)} has an alternate itself, and alternates do not form "
                    + "chains; drop one of the two.");
            if (!taken.TryAdd(alternate, display.Id) && alternate != display.Id)
                yield return new Fault(at, $"{QuotedInput.Of(alternate)} is the alternate of {QuotedInput.Of(taken[alternate])} already; "
                    + "give each display its own.");
        }
    }
}
