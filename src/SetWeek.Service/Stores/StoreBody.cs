using NodaTime;
using SetWeek.Domain.Stores;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Stores;

/// <summary>The body that describes a store.</summary>
public static class StoreBody
{
    public const string Example = """
        {"id": "harbour-street", "name": "Harbour Street", "timeZone": "Europe/London",
         "zones": [{"id": "window", "name": "Show window", "maxPeople": 2},
                   {"id": "floor", "name": "Sales floor", "maxPeople": 6,
                        "cleanDown": {"minutes": 20, "roles": [{"skill": "general", "people": 1}]}}],
         "equipment": [{"id": "ladder", "count": 1}], "features": ["tall-window"],
         "region": {"id": "south", "name": "South"}}
        """;

    public static StoreProfile Read(JsonFields json)
    {
        var store = new StoreProfile(json.Id("id"), json.Text("name"), json.Word("timeZone"),
            json.List("zones", zone => zone.Object(ReadZone), most: 50, least: 1),
            json.OptionalList("equipment", item => item.Object(
                fields => new Equipment(fields.Id("id"), fields.Int("count", 1, 100))), most: 50),
            json.OptionalList("features", feature => feature.Word(), most: 50),
            json.OptionalObject("region", region => new StoreRegion(region.Id("id"), region.Text("name"))));
        if (store.TimeZone != "" && DateTimeZoneProviders.Tzdb.GetZoneOrNull(store.TimeZone) is null)
            json.AddFault("timeZone", "This is not an IANA time zone; give one such as Europe/London.");
        CheckUnique(json, "zones", store.Zones.Select(zone => zone.Id));
        CheckUnique(json, "equipment", store.Equipment.Select(item => item.Id));
        CheckUnique(json, "features", store.Features);
        return store;
    }

    private static Zone ReadZone(JsonFields json) => new(json.Id("id"), json.Text("name"), json.OptionalInt("maxPeople", 1, 100),
        json.OptionalObject("cleanDown", clean => new ZoneCleanDown(clean.Int("minutes", 1, 1440),
            clean.List("roles", role => role.Object(ReadRole), most: 10, least: 1))),
        json.Int("tradePerDay", 0, WeekLimits.Trade, otherwise: 0));

    private static SkillRequirement ReadRole(JsonFields json) =>
        new(json.Word("skill"), json.Int("people", 1, 20)) { Level = json.Int("level", 1, 3, otherwise: 1) };

    private static void CheckUnique(JsonFields json, string list, IEnumerable<string> ids)
    {
        foreach (var group in ids.Where(id => id != "").GroupBy(id => id).Where(group => group.Count() > 1))
            json.AddFault(list, $"{group.Key} is listed {group.Count()} times; list it once.");
    }
}
