using SetWeek.Service.Tests.Solving;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Weeks;

[Collection(ServiceCollection.Name)]
public sealed class ErasureTests(RunningService service)
{
    /// <summary>Ben and Asha, the keyholders, come in no night: the conflict names them.</summary>
    [Fact]
    public async Task A_stored_plan_holds_no_name_and_a_reader_gets_it_until_the_person_is_erased()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        foreach (var person in new[] { "p1", "p2" })
            await ExpectStatus(204, week.Lead.Put($"{Address}/crew/{person}", """{"available": []}""", ("If-Match", await week.ETag())));
        var plan = await week.Plan(state: "none");
        var address = $"{Address}/plans/{plan["id"]}";
        var name = new[] { "Asha Rowan", "Ben Marsh", "Cleo Strand" }.First(known => plan.ToJsonString().Contains(known));
        var person1 = name switch { "Asha Rowan" => "p1", "Ben Marsh" => "p2", _ => "p3" };
        Assert.DoesNotContain(name, await service.CandidatesOf(chain));

        await ExpectStatus(204, week.Lead.Send(HttpMethod.Delete, $"{Address}/crew/{person1}", (string?)null));
        var after = (await ExpectStatus(200, week.Lead.Get(address))).Text;
        Assert.DoesNotContain(name, after);
        Assert.Contains($"\\\"{person1}\\\"", after);
    }

    /// <summary>The search ends after the erasure and knew the name.</summary>
    [Fact]
    public async Task A_name_does_not_come_back_when_a_search_settles_after_the_erasure()
    {
        var chain = service.NewChain();
        await HarbourStreet.Open(chain.HeadOffice);
        var lead = chain.LeadOf();
        var crew = (await ExpectStatus(200, lead.Get($"{HarbourStreet.Address}/week-file"))).Json["crew"]!.AsArray();
        var plan = (await ExpectStatus(202, lead.Post($"{HarbourStreet.Address}/plans",
            """{"seconds": 3, "workers": 1}"""))).Location!;
        await ServiceProcess.Until(async () => (string?)(await lead.Get(plan)).Json["state"] == "solving");
        foreach (var person in crew)
            await ExpectStatus(204, lead.Send(HttpMethod.Delete, $"{HarbourStreet.Address}/crew/{person!["id"]}", (string?)null));
        await ServiceProcess.Until(async () => (string?)(await lead.Get(plan)).Json["state"] is not ("queued" or "solving"));

        var stored = await service.DocumentsOf(chain) + (await lead.Get(plan)).Text;
        Assert.Contains("{person:", stored);
        Assert.All(crew, person => Assert.DoesNotContain((string)person!["name"]!, stored));
    }

    [Fact]
    public async Task Notes_and_former_names_are_erased_and_the_erasure_can_be_repeated()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await ExpectStatus(204, week.Lead.Post($"{Address}/kits/forms/delayed",
            """{"eta": null, "why": "Cleo left it at the depot, says Mrs Strand."}"""));
        await ExpectStatus(204, week.Lead.Put($"{Address}/crew/p3", """{"name": "Cleo Hale"}""", ("If-Match", await week.ETag())));
        for (var time = 0; time < 2; time++)
            await ExpectStatus(204, week.Lead.Send(HttpMethod.Delete, $"{Address}/crew/p3", (string?)null));
        var stored = await service.DocumentsOf(chain) + await service.EventsOf(chain);
        Assert.All(new[] { "Cleo", "Strand", "Hale" }, part => Assert.DoesNotContain(part, stored));
        Assert.Equal("p3 left it at the depot, says Mrs p3.", (string?)(await week.Week())["notes"]![0]!["text"]);
        Assert.Equal(1, stored.Split("person-erased").Length - 1);
    }
}
