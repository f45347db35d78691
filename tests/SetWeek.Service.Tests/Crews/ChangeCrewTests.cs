using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Crews;

/// <summary>The crew of an open week changes, whatever else has changed in the week.</summary>
[Collection(ServiceCollection.Name)]
public sealed class ChangeCrewTests(RunningService service)
{
    private const string Fourth = """
        {"id": "p4", "name": "Dara Finch", "skills": {"dressing": 1}, "ratePerHour": 1250, "available": [{"night": "tuesday"}]}
        """;

    [Fact]
    public async Task People_join_and_are_changed_after_a_night_with_their_hours_was_dropped()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await ExpectStatus(204, week.HeadOffice.Send(
            HttpMethod.Delete, $"{Address}/nights/wednesday", (string?)null, ("If-Match", await week.ETag())));
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew", Fourth));
        await ExpectStatus(204, Change(week, "p1", """{"ratePerHour": 1600}"""));
        await ExpectStatus(204, week.Lead.Put($"{Address}/nights/wednesday",
            """{"opens": "2027-03-10T20:00", "closes": "2027-03-11T00:00"}""", ("If-Match", await week.ETag())));
        var crew = (await ExpectStatus(200, week.Lead.Get($"{Address}/week-file"))).Json["crew"]!.AsArray();
        Assert.All(crew, member => Assert.DoesNotContain(
            member!["available"]!.AsArray(), entry => (string?)entry!["night"] == "wednesday"));
    }

    [Fact]
    public async Task People_join_and_are_changed_after_somebody_pinned_was_erased()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await ExpectStatus(201, week.Lead.Post($"{Address}/pins", """{"person": "p3", "night": "monday", "off": true}""",
            ("If-Match", await week.ETag())));
        await ExpectStatus(204, week.Lead.Send(HttpMethod.Delete, $"{Address}/crew/p3", (string?)null));
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew", Fourth));
        await ExpectStatus(204, Change(week, "p1", """{"ratePerHour": 1600}"""));
    }

    /// <summary>An absence hides the hours of its night from the planner. They are checked all the same.</summary>
    [Fact]
    public async Task New_faults_are_refused_with_their_place_in_the_body()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p2/absent", """{"night": "monday"}"""));
        foreach (var (body, pointer) in new[]
            {
                ("""{"available": [{"night": "tuesday"}, {"night": "sunday"}]}""", "/available/1/night"),
                ("""{"available": [{"night": "monday", "to": "2027-03-08T19:00"}]}""", "/available/0"),
            })
        {
            var refused = await Change(week, "p2", body);
            Assert.Equal((422, pointer), (refused.Status, (string?)refused.Json["errors"]![0]!["pointer"]));
        }
        var unable = await Change(week, "p1", """{"skills": {}}""");
        Assert.Equal(204, unable.Status); // p2 can paint, and p2 and p3 can dress
        var painters = await Change(week, "p2", """{"skills": {"dressing": 2}}""");
        Assert.Equal((422, ""), (painters.Status, (string?)painters.Json["errors"]![0]!["pointer"]));
        Assert.Contains("of the resulting week", (string?)painters.Json["errors"]![0]!["detail"]);
    }

    private static async Task<ApiResponse> Change(FirstRain week, string person, string body) =>
        await week.Lead.Put($"{Address}/crew/{person}", body, ("If-Match", await week.ETag()));
}
