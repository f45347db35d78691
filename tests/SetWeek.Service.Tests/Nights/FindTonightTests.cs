using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Nights;

/// <summary>The address that a phone keeps for the whole week.</summary>
[Collection(ServiceCollection.Name)]
public sealed class FindTonightTests(RunningService service)
{
    private const string Tonight = $"{Address}/tonight";

    [Fact]
    public async Task It_leads_to_the_night_that_is_open_and_crew_to_the_own_pieces()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T23:00");
        var crew = chain.As("p3", Role.Crew, "harbour-street");
        Assert.Equal(($"{Address}/nights/monday/sheet?person=p3", 303), await Led(crew.Get(Tonight)));
        Assert.Equal(($"{Address}/nights/monday/sheet", 303), await Led(week.Lead.Get(Tonight)));
        // Somebody of another store's crew helps out: no pieces are theirs.
        Assert.Equal(($"{Address}/nights/monday/sheet", 303), await Led(chain.As("cy", Role.Crew, "harbour-street").Get(Tonight)));
    }

    [Fact]
    public async Task Without_a_published_plan_a_page_says_so()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        Assert.Equal((404, "nothing-published"), await week.Lead.Get(Tonight) is var refused ? (refused.Status, refused.Code) : default);
        var page = await ExpectStatus(200, week.Lead.Get(Tonight, ("Accept", "text/html")));
        Assert.Contains("No plan is published yet", page.Text);
        Assert.Contains("<body class=\"phone\">", page.Text);
    }

    private static async Task<(string?, int)> Led(Task<ApiResponse> request) =>
        await request is var answer ? (answer.Location, answer.Status) : default;
}
