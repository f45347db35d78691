using SetWeek.Domain.Directions;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Directions;

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
                       "alternate": {"display": "canopy.stand", "value": 20},
                       "colours": [{"name": "Slate blue, matt", "tasks": ["canopy.hang"]}],
                       "figures": [{"name": "Looks up", "tasks": ["canopy.hang"], "wears": ["Boots, size 42", "Rain coat, M"],
                                    "pose": "Chin up, one palm open", "accessory": "Umbrella, closed"}]},
                      {"id": "canopy.stand", "name": "Canopy on a stand", "commitment": "want", "value": 1}],
         "tasks": [{"id": "canopy.hang", "name": "Hang the canopy", "display": "canopy", "zone": "window",
                    "modes": [{"minutes": 60, "roles": [{"skill": "rigging", "people": 2}],
                               "equipment": [{"id": "ladder", "count": 1}]}],
                    "needs": [{"kit": "props", "item": "canopy"}], "traits": ["ladder"],
                    "cautions": ["Hang only from points that the building's owner allows."]},
                   {"id": "canopy.stand.set", "name": "Set up the stand", "display": "canopy.stand", "zone": "window",
                    "modes": [{"minutes": 30, "roles": [{"skill": "fixtures", "people": 1}]}]}],
         "kits": [{"id": "props", "name": "Props", "lines": [{"item": "canopy", "expected": 1}],
                   "cartons": [{"mark": "P1", "holds": ["The canopy, folded"], "items": ["canopy"]}]}],
         "cards": [{"id": "hang", "name": "Hang from points", "tasks": ["canopy.hang"],
                    "cautions": ["Nobody stands under it until the second lines are on."],
                    "steps": [{"text": "Opposite points in turn.", "picture": {"shows": "Six points, numbered in pairs"}}],
                    "good": ["Level from the street."], "goesWrong": ["One point is trimmed early: the frame racks."],
                    "tools": ["line scale"], "films": [{"title": "Hang it", "seconds": 65,
                    "said": [{"second": 0, "shows": "Two haul from outside the drop."}]}]}]}
        """;

    /// <summary>The form of a page that brings one in; null for a caller who may not, or has no session.</summary>
    public static ImportForm? FormFor(Request request) =>
        request.Caller.HasRole(IssueDirection.Operation.MayUse) && request.FormToken() is { } token
            ? new(token, request.PlanIds.Next(request.SystemTime)) : null;

    public static IReadOnlyList<string> MayOmit { get; } = ["zones/or", "kits/lines"];

    private const int LongestSentence = WeekLimits.SentenceLength, MostSentences = WeekLimits.Instructions, LongestAddress = 500;

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
                new DirectedLine(row.Word("item"), row.Int("expected", 0, 1_000_000))), most: 500))
        {
            Cartons = of.OptionalList("cartons", carton => carton.Object(box => new Carton(box.Word("mark"))
            {
                Holds = Sentences(box, "holds"), Items = box.OptionalList("items", item => item.Word(), most: 500),
            }), most: 200),
        }), most: 200),
        Cards = json.OptionalList("cards", card => card.Object(ReadCard), most: 200),
    };

    private static TechniqueCard ReadCard(JsonFields json) => new(json.Id("id"), json.Text("name"))
    {
        Tasks = json.OptionalList("tasks", task => task.Id(), most: 500),
        Cautions = Sentences(json, "cautions"),
        Steps = json.OptionalList("steps", step => step.Object(of => new CardStep(of.Text("text", LongestSentence))
        {
            Picture = of.OptionalObject("picture", ReadDrawing),
        }), MostSentences),
        Good = Sentences(json, "good"),
        GoesWrong = Sentences(json, "goesWrong"),
        Tools = json.OptionalList("tools", tool => tool.Word(), most: 50),
        Films = json.OptionalList("films", film => film.Object(of => new Film(
            of.Text("title"), of.OptionalInt("seconds", 1, 86_400), OptionalAddress(of))
        {
            Said = of.OptionalList("said", moment => moment.Object(at =>
                new FilmMoment(at.Int("second", 0, 86_400), at.Text("shows", LongestSentence))), MostSentences),
        }), most: 20),
        Sources = Sentences(json, "sources"),
    };

    private static IReadOnlyList<string> Sentences(JsonFields json, string name) =>
        json.OptionalList(name, sentence => sentence.Text(LongestSentence), MostSentences);

    private static Drawing ReadDrawing(JsonFields json) => new(json.Text("shows", LongestSentence), OptionalAddress(json));

    /// <summary>A person follows it; the service never does. So only that it is a web address matters.</summary>
    private static string? OptionalAddress(JsonFields json)
    {
        if (json.OptionalText("address", LongestAddress) is not { } address) return null;
        if (Uri.TryCreate(address, UriKind.Absolute, out var uri) && uri.Scheme == Uri.UriSchemeHttps && uri.UserInfo == "")
            return uri.AbsoluteUri;
        json.AddFault("address", "This must be a web address that begins with https://.");
        return null;
    }

    private static DirectedDisplay ReadDisplay(JsonFields json)
    {
        var (id, name, commitment) = (json.Id("id"), json.Text("name"), json.Choice<DisplayCommitment>("commitment"));
        var value = commitment == DisplayCommitment.Want ? json.Int("value", 1, 100) : json.Int("value", 0, 100, otherwise: 0);
        return new DirectedDisplay(id, name, commitment)
        {
            Value = commitment == DisplayCommitment.Want ? value : 0,
            Alternate = json.OptionalObject("alternate", of => new Alternate(of.Id("display"), of.Int("value", 0, 100))),
            Requires = json.OptionalList("requires", feature => feature.Word(), most: 50),
            About = json.OptionalText("about", LongestSentence),
            Drawings = json.OptionalList("drawings", drawing => drawing.Object(ReadDrawing), most: 20),
            MustBeShown = json.Flag("mustBeShown"),
            Colours = json.OptionalList("colours", colour => colour.Object(of => new DirectedColour(of.Text("name"))
            {
                Tasks = TaskIds(of),
            }), most: 50),
            Figures = json.OptionalList("figures", figure => figure.Object(of => new DirectedFigure(of.Text("name"))
            {
                Tasks = TaskIds(of), Wears = Sentences(of, "wears"), Pose = of.OptionalText("pose", LongestSentence),
                Accessory = of.OptionalText("accessory", LongestSentence),
            }), most: 200),
        };
    }

    private static IReadOnlyList<string> TaskIds(JsonFields json) => json.OptionalList("tasks", task => task.Id(), most: 500);
}
