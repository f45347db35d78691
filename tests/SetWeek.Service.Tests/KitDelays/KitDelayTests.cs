using Marten;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.KitDelays;
using SetWeek.Service.Solving;
using SetWeek.Service.Tests.Solving;
using Wolverine;
using static SetWeek.Service.Tests.KitDelays.LorryWeeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.KitDelays;

/// <summary>One late lorry for several stores.</summary>
[Collection(ServiceCollection.Name)]
public sealed class KitDelayTests(RunningService service)
{
    [Fact]
    public async Task A_late_lorry_is_recorded_in_each_week_that_waits_for_it_and_its_report_says_who_moves()
    {
        var chain = service.NewChain();
        var weeks = await Open(chain, "mill-lane", "harbour-street", "quay", "abbey");
        foreach (var store in new[] { "mill-lane", "harbour-street" }) await weeks.Publish(store);
        await ExpectStatus(204, chain.LeadOf().Post($"/weeks/{WeekOf("abbey")}/kits/forms/arrived",
            """{"id": "phone-1.1", "at": "2027-03-08T11:00:00Z", "complete": true}"""));

        var report = await weeks.WhenDone(
            await weeks.Delay(AfterTheirNight, """, "why": "The lorry broke down.", "effort": 1"""));

        Assert.Equal(["harbour-street", "mill-lane", "quay"], report["weeks"]!.AsArray().Select(week => (string?)week!["store"]));
        Assert.Equal((2, 1), ((int)report["sums"]!["states"]!["planned"]!, (int)report["sums"]!["states"]!["recorded"]!));
        var week = In(report, "mill-lane");
        Assert.Equal(("planned", "kept"), ((string?)week["state"], (string?)week["launch"]));
        Assert.NotEmpty(week["told"]!.AsArray());
        Assert.Contains((string?)week["told"]![0]!["name"], new[] { "Asha Rowan", "Ben Marsh", "Cleo Strand" });
        var read = (await ExpectStatus(200, chain.LeadOf().Get((string)week["plan"]!))).Json;
        // By the clock of planning, which stands in the week, and not by that of the system.
        Assert.StartsWith("2027-03", (string?)read["now"]);
        Assert.NotNull((await chain.LeadOf().Get($"/weeks/{WeekOf("mill-lane")}")).Json["brokenPlan"]);
        Assert.Equal((int)week["shifts"]!, read["changes"]!["shifts"]!.AsArray().Count);
        Assert.Equal((long)week["cost"]!["now"]!, (long)read["changes"]!["cost"]!["now"]!);
        Assert.Equal((int)report["sums"]!["toTell"]!,
            report["weeks"]!.AsArray().Sum(shown => shown!["told"]!.AsArray().Count));
        foreach (var store in new[] { "mill-lane", "quay" })
            Assert.Equal(AfterTheirNight,
                (string?)(await chain.LeadOf().Get($"/weeks/{WeekOf(store)}")).Json["kits"]![0]!["eta"]);
        Assert.Equal("The lorry broke down.",
            (string?)(await chain.LeadOf().Get($"/weeks/{WeekOf("quay")}")).Json["notes"]![0]!["text"]);
        Assert.Equal(3, Count(await service.EventsOf(chain), "\"kit-delayed\""));
    }

    [Fact]
    public async Task A_store_that_cannot_make_launch_is_told_with_what_would_rescue_it()
    {
        var chain = service.NewChain();
        var weeks = await Open(chain, "mill-lane");
        await weeks.Publish("mill-lane");
        var report = await weeks.WhenDone(await weeks.Delay("2027-03-11T12:00", """, "seconds": 5"""));
        var week = In(report, "mill-lane");
        Assert.Equal(("planned", "missed", 1),
            ((string?)week["state"], (string?)week["launch"], (int)report["sums"]!["missLaunch"]!));
        Assert.NotEmpty(week["conflict"]!.AsArray());
        Assert.NotEmpty(week["rescues"]!.AsArray());
        Assert.Null(week["cost"]);
    }

    [Fact]
    public async Task Only_a_plan_that_changes_no_shift_is_published_without_its_lead_and_only_if_the_chain_says_so()
    {
        var chain = service.NewChain();
        var weeks = await Open(chain, "mill-lane");
        await weeks.Publish("mill-lane");
        var before = await Published(chain);

        var unasked = await weeks.WhenDone(await weeks.Delay("2027-03-09T11:00", """, "effort": 1"""));
        Assert.Equal(("planned", 0), ((string?)In(unasked, "mill-lane")["state"], (int)In(unasked, "mill-lane")["shifts"]!));
        Assert.Equal(before, await Published(chain));

        const string auto = """, "effort": 1, "autoPublish": "noChangeToPublishedShifts" """;
        var unchanged = await weeks.WhenDone(await weeks.Delay(BeforeTheirNight, auto));
        Assert.Equal("published", (string?)In(unchanged, "mill-lane")["state"]);
        var after = await Published(chain);
        Assert.NotEqual(before, after);

        var changed = await weeks.WhenDone(await weeks.Delay(AfterTheirNight, auto));
        Assert.Equal("planned", (string?)In(changed, "mill-lane")["state"]);
        Assert.Equal(after, await Published(chain));
    }

    [Fact]
    public async Task A_message_that_comes_again_does_nothing_twice()
    {
        var chain = service.NewChain();
        var weeks = await Open(chain, "mill-lane");
        await weeks.Publish("mill-lane");
        var address = await weeks.Delay(AfterTheirNight, """, "effort": 1""");
        await weeks.WhenDone(address);
        var before = (await service.EventsOf(chain), await service.CandidatesOf(chain));

        await using (var scope = service.Host.Services.CreateAsyncScope())
        {
            var bus = scope.ServiceProvider.GetRequiredService<IMessageBus>();
            bus.TenantId = chain.Tenant;
            await bus.InvokeAsync(new DelayKitsOfWeek(address.Split('/')[^1], WeekOf("mill-lane")));
        }

        Assert.Equal(before, (await service.EventsOf(chain), await service.CandidatesOf(chain)));
    }

    [Fact]
    public async Task A_cancelled_delay_plans_nothing_more_and_keeps_what_is_recorded()
    {
        var chain = service.NewChain();
        string[] stores = ["mill-lane", "harbour-street", "quay"];
        var weeks = await Open(chain, stores);
        foreach (var store in stores) await weeks.Publish(store);
        await using (await service.HoldSearches())
        {
            var address = await weeks.Delay(AfterTheirNight);
            await ServiceProcess.Until(async () => (int?)(await weeks.Report(address))["sums"]!["states"]!["planning"] == 3);

            for (var time = 0; time < 2; time++) await ExpectStatus(204, chain.HeadOffice.Post($"{address}/cancel", "{}"));

            var report = await weeks.Report(address);
            Assert.Equal((true, true), ((bool)report["done"]!, (bool)report["cancelled"]!));
            Assert.Equal(3, (int?)report["sums"]!["states"]!["cancelled"]);
            Assert.Equal(3, Count(await service.EventsOf(chain), "\"kit-delayed\""));
        }
        await weeks.Publish("quay"); // the node is free again
    }

    /// <summary>A lead's newer request knows of the delay too, so it replaces the batch's.</summary>
    [Fact]
    public async Task A_leads_own_request_replaces_that_of_the_batch_and_not_the_other_way_round()
    {
        var chain = service.NewChain();
        var weeks = await Open(chain, "mill-lane");
        await weeks.Publish("mill-lane");
        var lead = chain.LeadOf();
        await using var held = await service.HoldSearches();
        var own = await Ask();
        var address = await weeks.Delay(AfterTheirNight);
        await ServiceProcess.Until(async () => (int?)(await weeks.Report(address))["sums"]!["states"]!["planning"] == 1);
        Assert.Equal("queued", (string?)(await lead.Get(own)).Json["state"]);

        await Ask();
        Assert.Equal("superseded", (string?)In(await weeks.WhenDone(address), "mill-lane")["state"]);

        async Task<string> Ask() => (await ExpectStatus(202,
            lead.Post($"/weeks/{WeekOf("mill-lane")}/plans", """{"effort": 1, "workers": 1}"""))).Location!;
    }

    [Fact]
    public async Task Weeks_are_listed_page_by_page_and_faults_name_their_place()
    {
        var chain = service.NewChain();
        var weeks = await Open(chain, "mill-lane", "quay");
        var address = await weeks.Delay(AfterTheirNight);
        await weeks.WhenDone(address);
        var first = await ExpectStatus(200, chain.HeadOffice.Get($"{address}?limit=1"));
        Assert.Equal("mill-lane", (string?)Assert.Single(first.Json["weeks"]!.AsArray())!["store"]);
        var second = await ExpectStatus(200, chain.HeadOffice.Get(first.Link!.Split('<', '>')[1]));
        Assert.Equal("quay", (string?)Assert.Single(second.Json["weeks"]!.AsArray())!["store"]);
        Assert.Null(second.Link);

        var unknown = await chain.HeadOffice.Post("/kit-delays",
            """{"kits": [{"week": "first-rain.quay", "kit": "forms"}, {"week": "nowhere", "kit": "forms"}], "eta": null}""");
        Assert.Equal((422, "/kits/1/week"), (unknown.Status, (string?)unknown.Json["errors"]![0]!["pointer"]));
        var both = await chain.HeadOffice.Post("/kit-delays", """{"kits": [], "direction": "first-rain", "eta": null}""");
        Assert.Equal(400, both.Status);
        Assert.Equal(403, (await chain.LeadOf().Get(address)).Status);
        Assert.Equal(404, (await service.NewChain().HeadOffice.Get(address)).Status);
    }

    [Fact]
    public async Task Who_has_access_to_some_stores_sees_and_cancels_only_their_weeks()
    {
        var chain = service.NewChain();
        var weeks = await Open(chain, "mill-lane", "quay");
        foreach (var store in new[] { "mill-lane", "quay" }) await weeks.Publish(store);
        await using var held = await service.HoldSearches();
        var address = await weeks.Delay(AfterTheirNight);
        await ServiceProcess.Until(async () => (int?)(await weeks.Report(address))["sums"]!["states"]!["planning"] == 2);

        var stranger = chain.As("ivo", Role.HeadOffice, "abbey");
        Assert.Equal(404, (await stranger.Get(address)).Status);
        Assert.Equal(404, (await stranger.Post($"{address}/cancel", "{}")).Status);

        var regional = chain.As("ina", Role.HeadOffice, "quay");
        var seen = (await ExpectStatus(200, regional.Get(address))).Json;
        Assert.Equal("quay", (string?)Assert.Single(seen["weeks"]!.AsArray())!["store"]);
        Assert.Equal((1, 1), ((int)seen["sums"]!["weeks"]!, (int)seen["sums"]!["states"]!["planning"]!));
        await ExpectStatus(204, regional.Post($"{address}/cancel", "{}"));
        Assert.True((bool)(await ExpectStatus(200, regional.Get(address))).Json["cancelled"]!);
        var report = await weeks.Report(address);
        Assert.Equal(("cancelled", "planning", false),
            ((string?)In(report, "quay")["state"], (string?)In(report, "mill-lane")["state"], (bool)report["cancelled"]!));
        await ExpectStatus(204, chain.HeadOffice.Post($"{address}/cancel", "{}"));
        Assert.Equal("cancelled", (string?)In(await weeks.WhenDone(address), "mill-lane")["state"]);
    }

    /// <summary>
    /// A node that has just started reads each week at some 20 ms; 2,000 of them would take longer than a caller waits.
    /// </summary>
    [Fact]
    public async Task A_direction_is_accepted_without_a_read_of_its_weeks()
    {
        var chain = service.NewChain();
        await Open(chain, "mill-lane", "quay");
        var services = service.Host.Services;
        await using var session = services.GetRequiredService<IDocumentStore>().LightweightSession(chain.Tenant);
        var request = new Request(new Caller(chain.Tenant, "ada", Role.HeadOffice, [Caller.AnyStore]),
            Instant.FromUtc(2027, 3, 8, 11, 0), Instant.FromUtc(2027, 3, 8, 11, 0), new Dictionary<string, string>(),
            new QueryCollection(), [])
        {
            Admission = services.GetRequiredService<Admission>(),
            PlanIds = services.GetRequiredService<PlanIds>(),
            Outbound = services.GetRequiredService<OutboundRules>(),
            Body = """{"direction": "first-rain", "kit": "forms", "eta": null}"""u8.ToArray(),
        };
        var answer = await DelayKits.Handle(request, session);
        Assert.Equal((202, 1), (answer.Status, session.RequestCount)); // the direction
        Assert.IsType<FindKitDelayWeeks>(Assert.Single(answer.Messages));
    }

    [Fact]
    public async Task The_weeks_of_a_direction_are_found_in_steps()
    {
        const int count = 120;
        var chain = service.NewChain();
        await ExpectStatus(201, chain.HeadOffice.Post("/directions", Direction));
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store()));
        for (var week = 0; week < count; week++)
            await ExpectStatus(201, chain.LeadOf().Post("/weeks", Opening.Replace("first-rain.harbour-street", $"w{week}")));
        var weeks = new LorryWeeks(chain.HeadOffice, chain.LeadOf());
        var report = await weeks.WhenDone(await weeks.Delay(AfterTheirNight));
        Assert.Equal((count, count), ((int)report["sums"]!["weeks"]!, (int)report["sums"]!["states"]!["recorded"]!));
        Assert.Equal(count, Count(await service.EventsOf(chain), "\"kit-delayed\""));
    }

    [Fact]
    public async Task A_direction_without_waiting_weeks_is_reported_so()
    {
        var chain = service.NewChain();
        var weeks = await Open(chain, "mill-lane");
        var address = (await ExpectStatus(202, chain.HeadOffice.Post("/kit-delays",
            """{"direction": "first-rain", "kit": "no-such-kit", "eta": null}"""))).Location!;
        var report = await weeks.WhenDone(address);
        Assert.Equal(0, (int)report["sums"]!["weeks"]!);
        Assert.Contains("no-such-kit", (string?)report["reason"]);
        var unknown = await chain.HeadOffice.Post("/kit-delays", """{"direction": "nothing", "kit": "forms", "eta": null}""");
        Assert.Equal((422, "unknown-direction"), (unknown.Status, unknown.Code));
    }

    private static async Task<LorryWeeks> Open(Chain chain, params string[] stores)
    {
        var weeks = new LorryWeeks(chain.HeadOffice, chain.LeadOf());
        await weeks.Open(stores);
        return weeks;
    }

    private static async Task<string?> Published(Chain chain) =>
        (string?)(await ExpectStatus(200, chain.LeadOf().Get($"/weeks/{WeekOf("mill-lane")}"))).Json["publishedPlan"];

    private static int Count(string text, string part) => text.Split(part).Length - 1;
}
