using SetWeek.Domain.Directions;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Directions;

/// <summary>
/// The body that describes a direction: displays and tasks as in a week file, preferred zones, and kits.
/// </summary>
public static class DirectionBody
{
    public const string Example = """
        {"id": "first-rain", "name": "First Rain",
         "zones": [{"id": "window", "name": "Show window", "or": ["entrance"]}],
         "displays": [{"id": "canopy", "name": "Hung canopy", "commitment": "must", "requires": ["ceiling-points"],
                       "alternate": {"display": "canopy.stand", "value": 20}},
                      {"id": "canopy.stand", "name": "Canopy on a stand", "commitment": "want", "value": 1}],
         "tasks": [{"id": "canopy.hang", "name": "Hang the canopy", "display": "canopy", "zone": "window",
                    "modes": [{"minutes": 60, "roles": [{"skill": "rigging", "people": 2}],
                               "equipment": [{"id": "ladder", "count": 1}]}],
                    "needs": [{"kit": "props", "item": "canopy"}], "traits": ["ladder"],
                    "cautions": ["Hang only from points that the building's owner allows."]},
                   {"id": "canopy.stand.set", "name": "Set up the stand", "display": "canopy.stand", "zone": "window",
                    "modes": [{"minutes": 30, "roles": [{"skill": "fixtures", "people": 1}]}]}],
         "kits": [{"id": "props", "name": "Props", "lines": [{"item": "canopy", "expected": 1}]}]}
        """;

    public static IReadOnlyList<string> MayOmit { get; } = ["zones/or", "kits/lines"];

    public static Direction Read(JsonFields json) => new()
    {
        Id = json.Id("id"),
        Name = json.Text("name"),
        Zones = json.OptionalList("zones", zone => zone.Object(of => new DirectedZone(
            of.Id("id"), of.Text("name"), of.OptionalList("or", zoneId => zoneId.Id(), most: 20))), most: 200),
        Displays = json.List("displays", display => display.Object(ReadDisplay), most: 500, least: 1),
        Tasks = json.List("tasks", TaskReader.Task, most: 500, least: 1),
        Kits = json.OptionalList("kits", kit => kit.Object(of => new DirectedKit(of.Id("id"), of.Text("name"),
            of.OptionalList("lines", line => line.Object(row =>
                new DirectedLine(row.Word("item"), row.Int("expected", 0, 1_000_000))), most: 500))), most: 200),
    };

    private static DirectedDisplay ReadDisplay(JsonFields json)
    {
        var (id, name, commitment) = (json.Id("id"), json.Text("name"), json.Choice<DisplayCommitment>("commitment"));
        var value = commitment == DisplayCommitment.Want ? json.Int("value", 1, 100) : json.Int("value", 0, 100, otherwise: 0);
        return new DirectedDisplay(id, name, commitment)
        {
            Value = commitment == DisplayCommitment.Want ? value : 0,
            Alternate = json.OptionalObject("alternate", of => new Alternate(of.Id("display"), of.Int("value", 0, 100))),
            Requires = json.OptionalList("requires", feature => feature.Word(), most: 50),
        };
    }
}
