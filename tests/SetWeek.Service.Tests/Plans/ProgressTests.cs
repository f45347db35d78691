using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Plans;

/// <summary>Whoever waits for a plan hears how far the search is.</summary>
[Collection(ServiceCollection.Name)]
public sealed class ProgressTests(RunningService service)
{
    [Fact]
    public async Task The_events_of_a_search_end_with_the_state_of_its_plan()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        string address;
        EventStreamReader stream;
        await using (await service.HoldSearches())
        {
            address = (await ExpectStatus(202, week.Lead.Post($"{Address}/plans", """{"seconds": 1, "workers": 1}"""))).Location!;
            stream = await chain.Stream($"{address}/progress");
            Assert.Equal((200, "text/event-stream"), (stream.Status, stream.ContentType));
            var first = JsonNode.Parse((await stream.Next())!)!;
            Assert.Equal(("queued", "The request waits for its turn."), ((string?)first["state"], (string?)first["sentence"]));

            using var lead = await chain.SignedIn("lena", Role.Lead);
            var page = (await lead.Api.Get(address, ("Accept", "text/html"))).Text;
            Assert.Contains($"data-progress=\"{address}/progress\"", page);
            Assert.Contains("aria-live=\"polite\"", page);
            Assert.Contains("The request waits for its turn.", page);
        }
        await using (stream)
        {
            var events = await stream.ToEnd();
            Assert.All(events.SkipLast(1), each => Assert.Equal("progress", each.EventType));
            Assert.Equal(("settled", "ready"), (events[^1].EventType, (string?)JsonNode.Parse(events[^1].Data)!["state"]));
        }
        // A plan that is settled says so at once.
        await using var late = await chain.Stream($"{address}/progress");
        Assert.Equal("settled", Assert.Single(await late.ToEnd()).EventType);
    }

    [Fact]
    public async Task A_reader_of_another_store_or_of_no_such_plan_gets_404()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var plan = await week.Plan();
        var address = $"{Address}/plans/{plan["id"]}/progress";
        foreach (var (client, path) in new[] { (chain.LeadOf("mill-lane"), address), (week.Lead, $"{Address}/plans/no-such/progress") })
            Assert.Equal(404, (await client.Get(path)).Status);
    }

    [Fact]
    public void Nobody_who_may_not_see_wages_hears_of_them()
    {
        var words = new Service.Words.ProgressSentences(Pages.Charts.ChartWeek.Spring);
        Model.Plans.GoalValue[] goals = [new(Model.Weeks.GoalId.LeftOut, 0, 0), new(Model.Weeks.GoalId.Cost, 4584, 4400)];
        Assert.Equal([Model.Weeks.GoalId.LeftOut], words.Rows(goals, showsPay: false).Select(row => row.Goal));
        Assert.Equal(("£45.84", "£44.00"), words.Rows(goals, showsPay: true)[1] is var cost ? (cost.Best, cost.Bound) : default);
    }
}
