using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Browser.Tests;

/// <summary>
/// The demo's week in the middle of its first night. A phone has reported each piece into another state; kits are counted short,
/// an area is looked at, a snag is put right, a question is answered, and a webhook has accepted nothing.
/// </summary>
internal sealed class WorkedNight(StoreWeek week, ApiClient headOffice)
{
    private const string Night = "nights/night-1";
    private int reports;

    public static async Task<StoreWeek> Of(Site site)
    {
        var week = await StoreWeek.OfDemo(site);
        week.MoveTo("2027-03-07T20:10");
        await new WorkedNight(week, site.As(week.Chain, "head", Role.HeadOffice)).IsWorked();
        return week;
    }

    private async Task IsWorked()
    {
        // Nothing listens at the port for discarded data (RFC 863).
        await FirstRain.ExpectStatus(201, headOffice.Post("/webhooks", """{"id": "board", "url": "http://127.0.0.1:9/"}"""));
        await IsOpened();
        await PiecesAreReported();
        await PaintIsFound();
        await KitsAreCounted();
        await AnAreaIsLookedAt();
        await Report("snags/1/fixed", "20:00", new() { ["note"] = "Filled and painted." });
        await FirstRain.ExpectStatus(204, headOffice.Post($"{week.Address}/questions/q1/answer",
            """{"text": "Yes, down to 180 cm.", "toAll": true}"""));
        await TheDeliveryIsTriedNoMore();
    }

    private async Task IsOpened()
    {
        var opening = await Read($"{Night}/opening");
        var people = opening["people"]!.AsArray().Where(person => (string?)person!["presence"] != "absent")
            .Select(person => (string)person!["person"]!).ToList();
        var said = opening["briefing"]!.AsArray().Where(item => (bool)item!["isRequired"]!).Select(item => (string)item!["id"]!);
        await Report($"{Night}/opening", "16:35", new()
        {
            ["here"] = Array(people[..^2]), ["firstAider"] = people[0], ["said"] = Array(said),
        });
        await Report($"{Night}/came", "17:10", new() { ["person"] = people[^2] });
        await Report($"{Night}/left", "19:40", new() { ["person"] = people[1] });
    }

    private async Task PiecesAreReported()
    {
        var pieces = (await Read($"{Night}/sheet"))["pieces"]!.AsArray().Select(piece => piece!)
            .Where(piece => piece["task"] is not null && piece["showing"] is null).ToList();
        // A stop concerns a zone: it is that of the fewest pieces.
        var zone = pieces.GroupBy(piece => (string)piece["zone"]!).MinBy(zone => zone.Count())!;
        Keep("stopped", zone.Last());
        await Report("work/stopped", "19:55",
            new() { ["night"] = "night-1", ["zone"] = zone.Key, ["note"] = "The glass moves." });

        var others = pieces.Where(piece => (string)piece["zone"]! != zone.Key).ToList();
        var (done, unsigned, notGood, paused, blocked) = (others[0], others[1], others[2], others[3], others[4]);
        var (again, running, open) = (others[5], others[6], others[7]);
        foreach (var begun in new[] { done, unsigned, notGood, paused, blocked, again, running }) await Start(begun);
        await Finish("done", done, "good");
        await Finish("unsigned", unsigned, null);
        await Finish("not good", notGood, "notGood");
        await Act("paused", "paused", paused, new() { ["remainingMinutes"] = 20 });
        await Act("blocked", "blocked", blocked,
            new() { ["reason"] = "no-access", ["until"] = "2027-03-07T21:15:00Z", ["note"] = "The lift is booked." });
        await Finish("again", again, "good");
        await Act("again", "reopened", again, []);
        await Act("running", "progress", running, new() { ["remainingMinutes"] = 25, ["done"] = 3, ["of"] = 8 });
        Keep("open", open);
    }

    /// <summary>Where paint dries, a thermometer is read at the finish, in whichever night that is.</summary>
    private async Task PaintIsFound()
    {
        const string task = "wall.patch";
        var night = $"nights/{week.Work.First(work => work.Task == task).Night}";
        Keep("paint", (await Read($"{night}/sheet"))["pieces"]!.AsArray().First(piece => (string?)piece!["task"] == task)!, night);
    }

    private async Task KitsAreCounted()
    {
        await Count("paint", "tin", 4);
        await Count("fixtures", "anchor", 3);
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/kits/fixtures/settled", """{"item": "anchor"}"""));
    }

    private async Task AnAreaIsLookedAt()
    {
        var area = (await Read("walk-through"))["areas"]!.AsArray().Single(area => (string?)area!["zone"] == "entrance")!;
        await Report("walk-through", "20:05", new()
        {
            ["zone"] = "entrance",
            ["answers"] = new JsonArray([.. area["checks"]!.AsArray().Select(check => (string)check!["check"]!["id"]!).Index()
                .Select(check => check.Index == 0
                    ? new JsonObject { ["check"] = check.Item, ["answer"] = "notGood", ["why"] = "A rail stands before the left leaf." }
                    : new JsonObject { ["check"] = check.Item, ["answer"] = "good" })]),
        });
    }

    private async Task TheDeliveryIsTriedNoMore()
    {
        for (var attempt = 0; attempt < 600; attempt++)
        {
            var letters = (await FirstRain.ExpectStatus(200, headOffice.Get("/webhooks/board/dead-letters"))).Json;
            if (letters["deadLetters"]!.AsArray().Count > 0) return;
            await Task.Delay(100);
        }
        throw new TimeoutException("The webhook has no dead letter.");
    }

    /// <summary>Counts the pieces of a line, and all others of the kit as expected.</summary>
    private async Task Count(string kit, string item, int received) => await Report($"kits/{kit}/arrived", "16:50", new()
    {
        ["lines"] = new JsonArray([.. (await Read($"kits/{kit}"))["lines"]!.AsArray().Select(line => new JsonObject
        {
            ["item"] = (string)line!["item"]!, ["received"] = (string)line["item"]! == item ? received : (int)line["expected"]!,
        })]),
    });

    private Task Start(JsonNode piece) => Report("work/started", "17:05", On(piece, "night-1", new()
    {
        ["gates"] = new JsonArray([.. piece["gates"]!.AsArray().Select(gate =>
            new JsonObject { ["gate"] = (string)gate!["gate"]!, ["result"] = "good" })]),
    }));

    /// <param name="answer">To each check; null: nobody signs them.</param>
    private async Task Finish(string state, JsonNode piece, string? answer)
    {
        await Report("work/finished", "18:20", On(piece, "night-1", answer is null ? [] : new()
        {
            ["checks"] = new JsonArray([.. piece["checks"]!.AsArray().Select(check =>
                new JsonObject { ["check"] = (string)check!, ["result"] = answer })]),
        }));
        Keep(state, piece);
    }

    private async Task Act(string state, string kind, JsonNode piece, JsonObject more)
    {
        await Report($"work/{kind}", "19:30", On(piece, null, more));
        Keep(state, piece);
    }

    private static JsonObject On(JsonNode piece, string? night, JsonObject more)
    {
        (more["task"], more["stint"]) = ((string)piece["task"]!, (int)piece["stint"]!);
        if (night is not null) more["night"] = night;
        return more;
    }

    private void Keep(string state, JsonNode piece, string night = Night) =>
        week.Pieces[state] = ($"{night}/pieces/{piece["number"]}", (string)piece["people"]![0]!["person"]!);

    /// <param name="time">Of the night's first day.</param>
    private async Task Report(string address, string time, JsonObject report)
    {
        (report["id"], report["at"]) = ($"phone-1.{++reports}", $"2027-03-07T{time}:00Z");
        var answer = await week.Lead.Post($"{week.Address}/{address}", report.ToJsonString());
        Assert.True(answer.Status < 300, $"{address}: {answer.Text}");
    }

    private async Task<JsonNode> Read(string address) =>
        (await FirstRain.ExpectStatus(200, week.Lead.Get($"{week.Address}/{address}"))).Json;

    private static JsonArray Array(IEnumerable<string> words) => [.. words.Select(word => JsonValue.Create(word))];
}
