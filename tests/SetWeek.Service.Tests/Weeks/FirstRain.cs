using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Solving;
using SetWeek.Service.Weeks;

namespace SetWeek.Service.Tests.Weeks;

/// <summary>
/// A small set week of Quillmere with the requests that tests send: three nights, three people, four tasks and one kit.
/// </summary>
public sealed class FirstRain(Chain chain)
{
    public const string Id = "first-rain.harbour-street", Address = $"/weeks/{Id}";

    /// <summary>The direction. The paint of the wall dries for four hours, so the forms are set in the second night.</summary>
    public const string Direction = """
        {"id": "first-rain", "name": "First Rain",
         "displays": [{"id": "wall", "name": "Painted wall", "commitment": "must"},
                      {"id": "cycle", "name": "Cycle on its stand", "commitment": "must",
                          "requires": ["cycle-stand"], "alternate": {"display": "cycle.panel", "value": 10}},
                      {"id": "cycle.panel", "name": "Cycle panel", "commitment": "want", "value": 1}],
         "tasks": [{"id": "wall.paint", "name": "Paint the wall", "display": "wall", "zone": "window",
             "modes": [{"minutes": 60, "roles": [{"skill": "painting", "people": 1}]}],
                    "steps": ["Mask the edges."], "checks": ["No bare spot."], "cautions": ["Air the room."]},
                   {"id": "wall.forms", "name": "Set the forms", "display": "wall", "zone": "window",
                       "modes": [{"minutes": 60, "roles": [{"skill": "dressing", "people": 2}]}],
                    "after": [{"task": "wall.paint", "dryMinutes": 240}], "needs": [{"kit": "forms"}]},
                   {"id": "cycle.tie", "name": "Tie the cycle", "display": "cycle", "zone": "window",
                       "modes": [{"minutes": 30, "roles": [{"skill": "dressing", "people": 1}]}]},
                   {"id": "cycle.panel.fix", "name": "Fix the panel", "display": "cycle.panel", "zone": "window",
                       "modes": [{"minutes": 30, "roles": [{"skill": "dressing", "people": 1}]}]}],
         "kits": [{"id": "forms", "name": "Forms", "lines": [{"item": "form", "expected": 4}]}]}
        """;

    /// <summary>The same with a banner, which is a want and needs the forms. If they come late, there are options.</summary>
    public static readonly string WithBanner = Direction
        .Replace("""{"id": "cycle.panel", "name": "Cycle panel",""", """
            {"id": "banner", "name": "Rain banner", "commitment": "want", "value": 30},
            {"id": "cycle.panel", "name": "Cycle panel",
            """)
        .Replace("""{"id": "cycle.tie",""", """
            {"id": "banner.hang", "name": "Hang the banner", "display": "banner", "zone": "window",
             "modes": [{"minutes": 150, "roles": [{"skill": "dressing", "people": 1}]}], "needs": [{"kit": "forms"}]},
            {"id": "cycle.tie",
            """);

    public const string Opening = """
        {"id": "first-rain.harbour-street", "direction": "first-rain", "store": "harbour-street", "currency": "GBP",
            "launch": "2027-03-12T09:00",
         "nights": [{"id": "monday", "opens": "2027-03-08T20:00", "closes": "2027-03-09T00:00"},
                    {"id": "tuesday", "opens": "2027-03-09T20:00", "closes": "2027-03-10T00:00"},
                    {"id": "wednesday", "opens": "2027-03-10T20:00", "closes": "2027-03-11T00:00"}],
         "crew": [{"id": "p1", "name": "Asha Rowan", "skills": {"painting": 2, "dressing": 1}, "keyholder": true,
             "ratePerHour": 1500,
                   "available": [{"night": "monday"}, {"night": "tuesday"}, {"night": "wednesday"}]},
                  {"id": "p2", "name": "Ben Marsh", "skills": {"painting": 1, "dressing": 2}, "keyholder": true,
                      "ratePerHour": 1300,
                   "available": [{"night": "monday"}, {"night": "tuesday"}, {"night": "wednesday"}]},
                  {"id": "p3", "name": "Cleo Strand", "skills": {"dressing": 1}, "ratePerHour": 1200,
                      "available": [{"night": "monday"}, {"night": "tuesday"}, {"night": "wednesday"}]}],
         "kits": [{"id": "forms", "eta": "2027-03-08T12:00"}],
         "rules": {"minShiftMinutes": 60, "maxShiftMinutes": 240, "minPeople": 2, "keyholderPresent": true,
             "minRestMinutes": 660},
         "goals": ["leftOut", "cost", "finish"], "replanGoals": ["leftOut", "changes", "cost", "finish"]}
        """;

    public TestClock Clock => chain.Clock;

    public ApiClient Lead { get; } = chain.LeadOf("harbour-street");

    public ApiClient HeadOffice => chain.HeadOffice;

    public async Task<FirstRain> Open(string direction = Direction, string opening = Opening)
    {
        await ExpectStatus(201, HeadOffice.Post("/directions", direction));
        await ExpectStatus(201, HeadOffice.Post("/stores", Samples.Store()));
        await ExpectStatus(201, Lead.Post("/weeks", opening));
        return this;
    }

    /// <summary>Requests a plan with one second and one worker, and waits for the result.</summary>
    /// <param name="now">Moves the clock to this time before.</param>
    public async Task<JsonNode> Plan(string? now = null, string state = "ready")
    {
        if (now is not null) Clock.MoveTo(now);
        var response = await ExpectStatus(202, Lead.Post($"{Address}/plans", """{"seconds": 1, "workers": 1}"""));
        var plan = await Settled(response.Location!);
        return (string?)plan["state"] == state ? plan
            : throw new InvalidOperationException($"Expected {state}: {plan.ToJsonString()}");
    }

    public async Task<JsonNode> Settled(string location)
    {
        for (var attempt = 0; attempt < 600; attempt++)
        {
            var plan = (await ExpectStatus(200, Lead.Get(location))).Json;
            if ((string?)plan["state"] is not ("queued" or "solving")) return plan;
            await Task.Delay(50);
        }
        throw new TimeoutException($"{location} is still not settled.");
    }

    public Task<ApiResponse> Publish(JsonNode plan, string etag, string body = "{}") =>
        Lead.Post($"{Address}/plans/{plan["id"]}/publish", body, ("If-Match", etag));

    public async Task PlanAndPublish()
    {
        var plan = await Plan();
        await ExpectStatus(204, Publish(plan, await ETag()));
    }

    /// <summary>Waits until the published plan is checked with all reports.</summary>
    public Task PlanIsChecked() => PlanIsChecked(chain);

    public static async Task PlanIsChecked(Chain chain)
    {
        var engineer = chain.As("eva", Role.Engineer);
        await ServiceProcess.Until(async () => (await engineer.Get("/followers")).Json["followers"]!.AsArray()
            .Any(follower => (string)follower!["name"]! == PlanHealthFollower.FollowerName && (long)follower["behind"]! == 0));
    }

    public async Task<string> ETag() => (await ExpectStatus(200, Lead.Get(Address))).ETag!;

    public async Task<JsonNode> Week() => (await ExpectStatus(200, Lead.Get(Address))).Json;

    public static async Task<ApiResponse> ExpectStatus(int status, Task<ApiResponse> request) =>
        await request is var received && received.Status == status
        ? received
        : throw new InvalidOperationException($"Expected {status}, received {received.Status}: {received.Text}");
}
