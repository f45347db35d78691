using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Revisions;

/// <summary>Parts of a week that stay as they are while it is open.</summary>
internal static class FixedParts
{
    /// <summary>The faults of the wanted week, with JSON Pointers into it.</summary>
    public static IEnumerable<Fault> Faults(Week before, Week after)
    {
        (string Pointer, object Was, object Wanted)[] fixedFields =
        [
            ("/week", before.Id, after.Id), ("/currency", before.Currency, after.Currency),
            ("/gridMinutes", before.GridMinutes, after.GridMinutes), ("/store/id", before.Store.Id, after.Store.Id),
            ("/store/timeZone", before.Store.TimeZone, after.Store.TimeZone),
        ];
        foreach (var (pointer, was, wanted) in fixedFields)
            if (!Equals(was, wanted))
                yield return new Fault(pointer, $"This stays {was} while the week is open; open another week instead.");
        foreach (var zone in before.Store.Zones.ExceptBy(after.Store.Zones.Select(zone => zone.Id), zone => zone.Id))
            yield return new Fault("/store/zones", $"{zone.Name} belongs to the store, so the week keeps it.");
        foreach (var item in before.Store.Equipment.ExceptBy(after.Store.Equipment.Select(item => item.Id), item => item.Id))
            yield return new Fault("/store/equipment",
                $"The week keeps “{IdWords.Spaced(item.Id)}”; give it a count of 0 instead.");
        var people = before.Crew.Select(member => member.Id).ToList();
        if (!after.Crew.Select(member => member.Id).Take(people.Count).SequenceEqual(people))
            yield return new Fault("/crew",
                "Everybody stays in the crew, in the same order, and others follow after them. Mark people as absent instead.");
    }
}
