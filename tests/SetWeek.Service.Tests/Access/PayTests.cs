using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Access;

/// <summary>Crew and engineers read the week and its plans, but nothing from which a rate can be computed.</summary>
[Collection(ServiceCollection.Name)]
public sealed class PayTests(RunningService service)
{
    [Fact]
    public async Task Crew_and_engineers_see_no_pay_in_any_answer()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        await ExpectStatus(204, week.Lead.Post($"{Address}/kits/forms/delayed", """{"eta": "2027-03-09T21:00"}"""));
        var replan = await week.Plan("2027-03-08T12:00");
        string[] addresses = [Address, $"{Address}/plan", $"{Address}/plans/{replan["id"]}", $"{Address}/plans/{replan["id"]}/changes"];

        var leads = "";
        foreach (var address in addresses) leads += (await ExpectStatus(200, week.Lead.Get(address))).Text;
        Assert.Contains("\"cost\"", leads);
        foreach (var reader in new[] { chain.As("cy", Role.Crew, "harbour-street"), chain.As("eng", Role.Engineer) })
        {
            foreach (var address in addresses) AssertNoPay((await ExpectStatus(200, reader.Get(address))).Json);
            var page = (await ExpectStatus(200, reader.Get(addresses[2], ("Accept", "text/html")))).Text;
            Assert.DoesNotContain("Wages", page);
            Assert.Equal(403, (await reader.Get($"{Address}/week-file")).Status);
        }
    }

    [Fact]
    public async Task Crew_still_see_who_does_what_and_the_other_goals()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var plan = await week.Plan();
        var seen = (await ExpectStatus(200,
            chain.As("cy", Role.Crew, "harbour-street").Get($"{Address}/plans/{plan["id"]}"))).Json["plan"]!;
        Assert.True(JsonNode.DeepEquals(plan["plan"]!["nights"], seen["nights"]));
        Assert.Equal(["leftOut", "finish"], seen["goals"]!.AsArray().Select(goal => (string?)goal!["goal"]));
    }

    private static void AssertNoPay(JsonNode? node)
    {
        if (node is JsonObject fields)
        {
            Assert.DoesNotContain("cost", fields.Select(field => field.Key));
            Assert.DoesNotContain("ratePerHour", fields.Select(field => field.Key));
            Assert.NotEqual("cost", fields["goal"] is JsonValue goal && goal.TryGetValue<string>(out var name) ? name : "");
            foreach (var (_, value) in fields) AssertNoPay(value);
        }
        else if (node is JsonArray list)
            foreach (var item in list) AssertNoPay(item);
    }
}
