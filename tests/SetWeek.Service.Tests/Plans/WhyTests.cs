using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Plans;

[Collection(ServiceCollection.Name)]
public sealed class WhyTests(RunningService service)
{
    /// <summary>
    /// The forms wait for the paint, which dries for four hours, and need two people who can dress.
    /// </summary>
    [Fact]
    public async Task The_explanation_lists_restrictions_and_substitutes_of_a_task()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var plan = await week.Plan();
        var why = (await ExpectStatus(200, week.Lead.Get($"{Address}/plans/{plan["id"]}/why/wall.forms"))).Json;
        Assert.Equal(("wall.forms", 1), ((string?)why["task"], (int)why["stint"]!));
        Assert.NotEmpty(why["here"]!["holds"]!.AsArray());
        Assert.True(why["here"]!["holds"]!.AsArray()
            .All(hold => (string?)hold!["rule"] is not null && (string?)hold["sentence"] is not null));
        Assert.NotNull(why["atAll"]!["notBefore"]);
        var people = why["people"]!.AsArray();
        Assert.Equal(2, people.Count);
        Assert.All(people, person => Assert.Single(person!["others"]!.AsArray()));

        var page = await ExpectStatus(200, week.Lead.Get($"{Address}/plans/{plan["id"]}/why/wall.forms",
            ("Accept", "text/html")));
        Assert.Contains("Set the forms", page.Text);
        Assert.Contains("Instead of", page.Text);
    }

    [Fact]
    public async Task The_page_of_a_plan_links_to_explanations_only_for_permitted_roles()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var address = $"{Address}/plans/{(await week.Plan())["id"]}";
        var page = (await ExpectStatus(200, week.Lead.Get(address, ("Accept", "text/html")))).Text;
        Assert.Contains($"href=\"{address}/why/wall.forms?stint=1\"", page);
        Assert.Equal(200, (await week.Lead.Get($"{address}/why/wall.forms?stint=1")).Status);
        Assert.Contains($"href=\"{address}/risk\"", page);
        var crews = (await ExpectStatus(200, chain.As("cy", Role.Crew, "harbour-street")
            .Get(address, ("Accept", "text/html")))).Text;
        Assert.DoesNotContain("/why/", crews);
        Assert.DoesNotContain("/risk", crews);
    }

    [Fact]
    public async Task A_lead_holds_a_piece_where_it_is_and_lets_it_go()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        using var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null;
        const string why = $"{Address}/plan/why/wall.paint?stint=1";
        async Task<string> Page() => (await ExpectStatus(200, lead.Api.Get(why, ("Accept", "text/html")))).Text;
        var planned = (await week.Lead.Get($"{Address}/plan")).Json["nights"]!.AsArray()
            .SelectMany(night => night!["work"]!.AsArray()).Single(work => (string?)work!["task"] == "wall.paint")!;
        Assert.Contains("It may start as late as ", await Page());

        var held = await lead.PressButton(await Page(), "Hold it here");
        Assert.Equal((303, why), (held.Status, held.Location!));
        var pin = Assert.Single((await week.Week())["pins"]!.AsArray())!;
        Assert.Equal(("wall.paint", 1, ((string)planned["from"]!)[..16], (string)planned["people"]![0]!["person"]!),
            ((string)pin["task"]!, (int)pin["stint"]!, (string)pin["from"]!, (string)pin["people"]![0]!));
        Assert.Contains("Held: Paint the wall: in the night of Monday 8 March, from ", await Page());

        var freed = await lead.PressButton(await Page(), "Let it go");
        Assert.Equal(303, freed.Status);
        Assert.Empty((await week.Week())["pins"]!.AsArray());
    }

    [Fact]
    public async Task Invalid_requests_are_refused_with_reasons()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var plan = await week.Plan();
        var address = $"{Address}/plans/{plan["id"]}/why";
        Assert.Equal(404, (await week.Lead.Get($"{address}/no-such-task")).Status);
        Assert.Equal(404, (await week.Lead.Get($"{Address}/plans/no-such-plan/why/wall.paint")).Status);
        foreach (var stint in new[] { "2", "0", "-1", "one", "" })
            Assert.Equal((400, "no-stint"), await StatusAndCode(week.Lead.Get($"{address}/wall.paint?stint={stint}")));
        Assert.Equal((404, "nothing-published"), await StatusAndCode(week.Lead.Get($"{Address}/plan/why/wall.paint")));
        Assert.Equal(403, (await chain.As("cy", Role.Crew, "harbour-street").Get($"{address}/wall.paint")).Status);
        Assert.Equal(406, (await week.Lead.Get($"{address}/wall.paint", ("Accept", "image/png"))).Status);
    }

    [Fact]
    public async Task Begun_work_of_the_published_plan_is_explained_by_its_start()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var plan = await week.Plan();
        await ExpectStatus(204, week.Publish(plan, await week.ETag()));
        var paint = plan["plan"]!["nights"]!.AsArray().SelectMany(night => night!["work"]!.AsArray())
            .Single(work => (string?)work!["task"] == "wall.paint")!;
        var start = DateTimeOffset.Parse((string)paint["from"]!, null).AddMinutes(4);
        week.Clock.MoveTo(start.AddMinutes(10).ToString("yyyy-MM-dd'T'HH:mm", null));
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started", new JsonObject
        {
            ["id"] = "tablet-1", ["at"] = start.ToString("yyyy-MM-dd'T'HH:mm:sszzz", null), ["task"] = "wall.paint",
            ["stint"] = 1, ["night"] = "monday",
        }.ToJsonString()));
        var why = (await ExpectStatus(200, week.Lead.Get($"{Address}/plan/why/wall.paint"))).Json;
        var hold = Assert.Single(why["here"]!["holds"]!.AsArray())!;
        Assert.Equal(("frozen", $"It has begun at {start:ddd d MMM HH:mm}."), ((string?)hold["rule"], (string?)hold["sentence"]));
        Assert.Empty(why["people"]!.AsArray());
    }

    private static async Task<(int, string?)> StatusAndCode(Task<ApiResponse> request) =>
        await request is var heard ? (heard.Status, heard.Code) : default;
}
