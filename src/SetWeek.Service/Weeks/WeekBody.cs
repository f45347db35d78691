using System.Text.Json.Serialization;
using NodaTime;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Weeks;

/// <summary>
/// The body that opens a week: what is needed besides the direction and the store, such as nights, crew and rules.
/// </summary>
public sealed record WeekBody
{
    public required string Id { get; init; }
    public required string Direction { get; init; }
    public required string Store { get; init; }
    public required string Currency { get; init; }
    public int GridMinutes { get; init; } = 5;
    public required LocalDateTime Launch { get; init; }
    public required IReadOnlyList<Night> Nights { get; init; }
    public required IReadOnlyList<CrewMember> Crew { get; init; }

    /// <summary>Whom the week takes over from an earlier one of the store, besides <see cref="Crew"/>.</summary>
    public CrewSource? CrewFrom { get; init; }

    /// <summary>When each kit is expected; the arrival of a kit that is not listed is unknown.</summary>
    public IReadOnlyList<KitDue> Kits { get; init; } = [];

    public required RuleSet Rules { get; init; }

    /// <summary>The chance to hold that plans of the week are made for; 80 % unless given.</summary>
    public HoldTarget? Hold { get; init; }

    /// <summary>Parts of every plan that somebody has fixed.</summary>
    public IReadOnlyList<Pin> Pins { get; init; } = [];

    public IReadOnlyList<GoalChoice> Goals { get; init; } = Week.DefaultGoals;
    public IReadOnlyList<GoalChoice> ReplanGoals { get; init; } = Week.DefaultReplanGoals;

    public const string Example = """
        {"id": "first-rain.harbour-street", "direction": "first-rain", "store": "harbour-street", "currency": "GBP",
         "launch": "2027-03-13T09:00",
         "nights": [{"id": "night-1", "opens": "2027-03-08T21:30", "closes": "2027-03-09T02:00",
                     "bans": [{"trait": "noisy", "from": "2027-03-09T01:00", "to": "2027-03-09T02:00"}]}],
         "crew": [{"id": "c1", "name": "Asha Rowan", "skills": {"rigging": 2, "general": 1}, "keyholder": true,
                   "ratePerHour": 1450, "available": [{"night": "night-1"}]},
                  {"id": "c2", "name": "Ben Marsh", "skills": {"rigging": 1, "general": 1}, "ratePerHour": 1300,
                   "available": [{"night": "night-1"}]}],
         "crewFrom": {"week": "late-summer.harbour-street", "people": ["c7"]},
         "kits": [{"id": "props", "eta": "2027-03-08T12:00"}],
         "rules": {"minRestMinutes": 660, "minPeople": 2, "keyholderPresent": true},
         "hold": {"chance": 90}, "pins": [{"person": "c1", "night": "night-1", "from": "2027-03-08T21:30"}]}
        """;

    public static WeekBody Read(JsonFields json) => new()
    {
        Id = json.Id("id"),
        Direction = json.Id("direction"),
        Store = json.Id("store"),
        Currency = WeekReader.Currency(json.Required("currency")),
        GridMinutes = json.Int("gridMinutes", 1, 1440, otherwise: 5),
        Launch = json.LocalTime("launch"),
        Nights = json.List("nights", WeekReader.Night, WeekLimits.Nights, least: 1),
        Crew = json.List("crew", WeekReader.CrewMember, WeekLimits.People),
        CrewFrom = json.OptionalObject("crewFrom", from => new CrewSource(from.Id("week"))
        {
            People = from.OptionalList("people", person => person.Id(), WeekLimits.People),
        }),
        Kits = json.OptionalList("kits", kit => kit.Object(of => new KitDue(of.Id("id"), of.NullableLocalTime("eta"))),
            WeekLimits.Kits),
        Rules = RuleReader.Rules(json.Required("rules")),
        Hold = json.OptionalObject("hold", WeekReader.Hold),
        Pins = json.OptionalList("pins", WeekReader.Pin, WeekLimits.Pins),
        Goals = json.Optional("goals") is { } goals ? WeekReader.Goals(goals, replan: false) : Week.DefaultGoals,
        ReplanGoals = json.Optional(
            "replanGoals") is { } replan ? WeekReader.Goals(replan, replan: true) : Week.DefaultReplanGoals,
    };
}

/// <summary>An earlier week of the store, and those of its crew who work in the new one too.</summary>
public sealed record CrewSource(string Week)
{
    public IReadOnlyList<string> People { get; init; } = [];
}

public sealed record KitDue(string Id, [property: JsonRequired] LocalDateTime? Eta);
