using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Http;

[Collection(ServiceCollection.Name)]
public sealed class ConcurrencyTests(RunningService service)
{
    [Fact]
    public async Task Of_many_concurrent_creations_one_succeeds_and_the_others_get_409()
    {
        var chain = service.NewChain();
        await AssertOneSucceeds(chain, "/directions", FirstRain.Direction);
        await AssertOneSucceeds(chain, "/stores", Samples.Store());
        await AssertOneSucceeds(chain, "/weeks", FirstRain.Opening);
    }

    [Fact]
    public async Task Of_many_concurrent_plan_requests_one_is_solved_and_all_settle()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var responses = await Task.WhenAll(Enumerable.Range(0, 16).Select(_ =>
            week.Lead.Post($"{FirstRain.Address}/plans", """{"effort": 2, "workers": 1}""")));
        Assert.All(responses, answer => Assert.True(answer.Status == 202, answer.Text));
        var states = new List<string>();
        foreach (var answer in responses) states.Add((string)(await week.Settled(answer.Location!))["state"]!);
        Assert.Contains("ready", states);
        Assert.All(states, state => Assert.Contains(state, new[] { "ready", "cancelled" }));
    }

    private static async Task AssertOneSucceeds(Chain chain, string path, string body)
    {
        var answers = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => chain.HeadOffice.Post(path, body)));
        Assert.True(answers.Select(answer => answer.Status).Order().SequenceEqual([201, .. Enumerable.Repeat(409, 7)]),
            string.Join("\n", answers.Select(answer => $"{path} {answer.Status} {answer.Text}")));
    }
}
