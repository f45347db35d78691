using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Http;

[Collection(ServiceCollection.Name)]
public sealed class AtOnceTests(RunningService service)
{
    [Fact]
    public async Task Of_many_who_open_the_same_thing_at_once_one_does_and_the_others_are_told_that_it_is_there()
    {
        var chain = service.NewChain();
        await OneOf(chain, "/directions", FirstRain.Direction);
        await OneOf(chain, "/stores", Samples.Store());
        await OneOf(chain, "/weeks", FirstRain.Opening);
    }

    [Fact]
    public async Task Of_many_plans_asked_for_at_once_one_at_least_is_worked_out_and_none_is_left_hanging()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var asked = await Task.WhenAll(Enumerable.Range(0, 16).Select(_ =>
            week.Lead.Post($"{FirstRain.Address}/plans", """{"effort": 2, "workers": 1}""")));
        Assert.All(asked, answer => Assert.True(answer.Status == 202, answer.Text));
        var states = new List<string>();
        foreach (var answer in asked) states.Add((string)(await week.Settled(answer.Location!))["state"]!);
        Assert.Contains("ready", states);
        Assert.All(states, state => Assert.Contains(state, new[] { "ready", "cancelled" }));
    }

    private static async Task OneOf(Chain chain, string path, string body)
    {
        var answers = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => chain.HeadOffice.Post(path, body)));
        Assert.True(answers.Select(answer => answer.Status).Order().SequenceEqual([201, .. Enumerable.Repeat(409, 7)]),
            string.Join("\n", answers.Select(answer => $"{path} {answer.Status} {answer.Text}")));
    }
}
