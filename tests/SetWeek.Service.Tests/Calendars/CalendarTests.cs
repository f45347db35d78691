using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Calendars;

[Collection(ServiceCollection.Name)]
public sealed class CalendarTests(RunningService service)
{
    [Fact]
    public async Task A_calendar_follows_each_published_plan_and_loses_a_cancelled_shift()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await week.PlanAndPublish();
        var first = (await ExpectStatus(200, week.Lead.Get($"{Address}/plan"))).Json;
        var night = first["nights"]!.AsArray().First(night => night!["shifts"]!.AsArray().Count > 0)!;
        var person = (string)night["shifts"]![0]!["person"]!;
        var address = await Added(week, person);
        var before = CalendarReader.Parse((await Read(address)).Text);
        Assert.Equal(ShiftsOf(first, person), before.Events.Count());
        Assert.All(before.Events, shift => Assert.Equal(("1", "Harbour Street"), (shift["SEQUENCE"], shift["LOCATION"])));
        Assert.DoesNotContain("Rowan", (await Read(address)).Text, StringComparison.Ordinal);

        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/{person}/absent", $$"""{"night": "{{night["night"]}}"}"""));
        Assert.Equal(before.Events.Count(), CalendarReader.Parse((await Read(address)).Text).Events.Count()); // not published yet
        await ExpectStatus(204, week.Publish(await week.Plan("2027-03-07T12:00"), await week.ETag()));
        var second = (await ExpectStatus(200, week.Lead.Get($"{Address}/plan"))).Json;
        var after = CalendarReader.Parse((await Read(address)).Text);
        Assert.Equal(ShiftsOf(second, person), after.Events.Count());
        var (old, kept) = (Uids(before), Uids(after));
        Assert.Contains(old, uid => !kept.Contains(uid));
        Assert.All(after.Events, shift => Assert.Equal("2", shift["SEQUENCE"]));

        // Somebody who works by both plans: the same event has the next number.
        var other = new[] { "p1", "p2", "p3" }.First(id => id != person && ShiftsOf(first, id) > 0 && ShiftsOf(second, id) > 0);
        Assert.All(CalendarReader.Parse((await Read(await Added(week, other))).Text).Events,
            shift => Assert.Equal("2", shift["SEQUENCE"]));
    }

    [Fact]
    public async Task A_revoked_a_replaced_and_an_unknown_address_are_not_found()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var first = await Added(week, "p1");
        Assert.Matches("^/calendars/[0-9a-f]{64}[.]ics$", first);
        Assert.Equal((200, "text/calendar"), Told(await Read(first)));
        var second = await Added(week, "p1");
        Assert.NotEqual(first, second);
        Assert.Equal(404, (await Read(first)).Status);
        Assert.Equal(200, (await Read(second)).Status);
        foreach (var path in new[] { second[..^5] + "0.ics", second[..^4], "/calendars/.ics", "/calendars/x.ics" })
            if (path != second) Assert.Equal(404, (await Read(path)).Status);
        await ExpectStatus(204, week.Lead.Send(HttpMethod.Delete, $"{Address}/crew/p1/calendar", (string?)null));
        Assert.Equal(404, (await Read(second)).Status);
        await ExpectStatus(204, week.Lead.Send(HttpMethod.Delete, $"{Address}/crew/p1/calendar", (string?)null));
    }

    [Fact]
    public async Task Only_the_stores_lead_makes_an_address_and_only_for_its_crew()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        Assert.Equal(404, (await week.Lead.Post($"{Address}/crew/p9/calendar", "")).Status);
        Assert.Equal(404, (await chain.LeadOf("mill-lane").Post($"{Address}/crew/p1/calendar", "")).Status);
        foreach (var role in new[] { Role.Crew, Role.HeadOffice, Role.Engineer })
            Assert.Equal(403, (await chain.As("p1", role, "harbour-street").Post($"{Address}/crew/p1/calendar", "")).Status);
        var other = await new FirstRain(service.NewChain()).Open(); // the same week of another chain
        var (mine, theirs) = (await Added(week, "p1"), await Added(other, "p1"));
        await ExpectStatus(204, other.Lead.Send(HttpMethod.Delete, $"{Address}/crew/p1/calendar", (string?)null));
        Assert.Equal((200, 404), ((await Read(mine)).Status, (await Read(theirs)).Status));
    }

    [Fact]
    public async Task The_secret_is_stored_nowhere_and_not_logged()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var added = await ExpectStatus(201, week.Lead.Post($"{Address}/crew/p1/calendar", "", ("Idempotency-Key", "cal-1")));
        var secret = CalendarSecret.In(added.Location!.Split('/')[^1])!;
        await using var read = service.Host.Services.GetRequiredService<NpgsqlDataSource>().CreateCommand("""
            select coalesce(string_agg(r::text, ''), '') from (
                select to_jsonb(c) as r from setweek.calendar c where tenant_id = $1 union all
                select to_jsonb(k) || jsonb_build_object('content', convert_from(coalesce(content, ''), 'UTF8'))
                from setweek.remembered k where tenant_id = $1) as found
            """);
        read.Parameters.AddWithValue(chain.Tenant);
        var stored = (string)(await read.ExecuteScalarAsync())!;
        Assert.Contains("p1", stored, StringComparison.Ordinal);
        Assert.DoesNotContain(secret, stored, StringComparison.Ordinal);
        Assert.Equal("/calendars/…", CalendarSecret.Logged(new PathString(added.Location)));
        Assert.Equal("/weeks/w", CalendarSecret.Logged(new PathString("/weeks/w")));
    }

    [Fact]
    public async Task Whoever_is_erased_has_no_calendar()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var address = await Added(week, "p3");
        await ExpectStatus(204, week.Lead.Send(HttpMethod.Delete, $"{Address}/crew/p3", (string?)null));
        Assert.Equal(404, (await Read(address)).Status);
    }

    private static async Task<string> Added(FirstRain week, string person)
    {
        var added = await ExpectStatus(201, week.Lead.Post($"{Address}/crew/{person}/calendar", ""));
        Assert.Equal(added.Location, (string?)added.Json["address"]);
        return added.Location!;
    }

    /// <summary>As a calendar program reads it: without a token.</summary>
    private Task<ApiResponse> Read(string address) => new ApiClient(service.Host.Server.CreateClient()).Get(address);

    private static int ShiftsOf(System.Text.Json.Nodes.JsonNode plan, string person) => plan["nights"]!.AsArray()
        .SelectMany(night => night!["shifts"]!.AsArray()).Count(shift => (string?)shift!["person"] == person);

    private static HashSet<string> Uids(CalendarReader calendar) => [.. calendar.Events.Select(shift => shift["UID"])];

    private static (int, string?) Told(ApiResponse answer) => (answer.Status, answer.ContentType);
}
