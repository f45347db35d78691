using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Pages.Nights.PaintNight;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages.Nights;

/// <summary>Whoever is in the store stops a place that is not safe, also without a piece of work.</summary>
[Collection(ServiceCollection.Name)]
public sealed class NotSafeTests(RunningService service)
{
    private const string Night = $"{Address}/nights/monday", NotSafe = $"{Night}/sheet?view=not-safe";

    /// <summary>Nothing of the week asks for the skill of p4.</summary>
    private static readonly string WithReceiver = FirstRain.Opening.Replace("]}],", """
        ]}, {"id": "p4", "name": "Dora Field", "skills": {"receiving": 1}, "ratePerHour": 1200,
             "available": [{"night": "monday"}]}],
        """, StringComparison.Ordinal);

    [Fact]
    public async Task Somebody_without_a_piece_stops_a_place_for_everybody()
    {
        var (chain, week, painter) = await Opened();
        using var crew = await SignedIn(chain, "p4", Role.Crew);
        var own = await Page(crew, $"{Night}/sheet?person=p4");
        Assert.Contains("Nothing is planned for you tonight", own);
        Assert.Contains($"href=\"{NotSafe}\"", own);
        var page = await Page(crew, NotSafe);
        Assert.InRange(page.IndexOf("Move away first", StringComparison.Ordinal), 1,
            page.IndexOf("What is stopped?", StringComparison.Ordinal));
        var form = PageForm.With(page, "Stop the work");
        Assert.Empty(form.SentIn("zone")); // no place is stopped by mistake
        await Accepted(form.Fill("zone", "window").Fill("note", "The glass moves.").Send(crew), $"{Night}/sheet?person=p4");
        await Accepted(form.Send(crew)); // a second tap

        var stop = Assert.Single((await ExpectStatus(200, week.Lead.Get($"{Night}/sheet"))).Json["stops"]!.AsArray())!;
        Assert.Equal(("window", "2027-03-08T20:30:00Z"), ((string?)stop["zone"], (string?)stop["at"]));
        using var other = await SignedIn(chain, painter, Role.Crew);
        var stopped = await Page(other, $"{Night}/sheet?person={painter}");
        Assert.Contains("Stopped since 20:30: Show window.", stopped);
        Assert.DoesNotContain("act=start", stopped);

        // The page says what is stopped already. A lead lifts it on the sheet.
        using var lead = await SignedIn(chain, "lena", Role.Lead);
        var again = await Page(lead, NotSafe);
        Assert.Contains("Stopped since 20:30: Show window.", again);
        Assert.DoesNotContain("lift the stop</button>", again);
        await Accepted(PageForm.With(again, "Stop the work").Fill("zone", "").Send(lead), $"{Night}/sheet");
        Assert.Contains((await ExpectStatus(200, week.Lead.Get($"{Night}/sheet"))).Json["stops"]!.AsArray(),
            whole => whole!["zone"] is null);
    }

    [Fact]
    public async Task Every_page_of_a_night_leads_there_for_those_in_the_store()
    {
        var (chain, week, painter) = await Opened();
        var paint = (await ExpectStatus(200, week.Lead.Get($"{Night}/sheet"))).Json["pieces"]!.AsArray()
            .Single(piece => (string?)piece!["task"] == "wall.paint")!["number"];
        using var crew = await SignedIn(chain, "p4", Role.Crew);
        using var lead = await SignedIn(chain, "lena", Role.Lead);
        foreach (var page in new[] { $"{Night}/sheet", $"{Night}/sheet?person={painter}", $"{Night}/opening" })
            foreach (var reader in new[] { crew, lead }) Assert.Contains($"href=\"{NotSafe}\"", await Page(reader, page));
        Assert.Contains($"href=\"{NotSafe}\"", await Page(crew, $"{Night}/pieces/{paint}"));
        Assert.Contains($"href=\"{Night}/pieces/{paint}?act=not-safe\"", await Page(lead, $"{Night}/pieces/{paint}"));
        Assert.Contains($"href=\"{NotSafe}\"", await Page(lead, $"{Night}/pieces/{paint}?act=not-safe"));

        using var office = await SignedIn(chain, "hana", Role.HeadOffice);
        foreach (var page in new[] { $"{Night}/sheet", $"{Night}/pieces/{paint}", NotSafe })
        {
            var read = await Page(office, page);
            Assert.DoesNotContain($"href=\"{NotSafe}\"", read);
            Assert.DoesNotContain("Stop the work", read);
        }
    }

    [Fact]
    public async Task Whoever_has_no_night_of_their_own_goes_back_to_the_whole_one()
    {
        var (chain, _, _) = await Opened();
        foreach (var (person, role) in new[] { ("hana", Role.HeadOffice), ("sam", Role.Crew) })
        {
            using var reader = await SignedIn(chain, person, role);
            Assert.Contains($"href=\"{Night}/sheet#n101\">Back to the night",
                await Page(reader, $"{Night}/pieces/101"));
        }
        // Somebody whom another store has lent stops a place too.
        using var lent = await SignedIn(chain, "sam", Role.Crew);
        await Accepted(PageForm.With(await Page(lent, NotSafe), "Stop the work").Fill("zone", "window").Send(lent), $"{Night}/sheet");
    }

    [Fact]
    public async Task Whoever_opens_only_that_page_has_not_seen_the_plan()
    {
        var (chain, week, painter) = await Opened();
        using var crew = await SignedIn(chain, painter, Role.Crew);
        await Page(crew, NotSafe);
        Assert.Null(await Seen());
        await Page(crew, $"{Night}/sheet");
        Assert.NotNull(await Seen());

        async Task<string?> Seen() => (string?)(await ExpectStatus(200, week.Lead.Get($"{Address}/told"))).Json["people"]!.AsArray()
            .Single(person => (string?)person!["person"] == painter)!["seen"];
    }

    private async Task<(Chain Chain, FirstRain Week, string Painter)> Opened()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open(opening: WithReceiver);
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T20:30");
        var painter = (await ExpectStatus(200, week.Lead.Get($"{Night}/sheet"))).Json["pieces"]!.AsArray()
            .Single(piece => (string?)piece!["task"] == "wall.paint")!["people"]![0]!["person"]!;
        return (chain, week, (string)painter!);
    }
}
