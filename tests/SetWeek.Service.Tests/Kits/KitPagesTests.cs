using System.Net;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Pages;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Kits;

/// <summary>A kit is counted and settled on pages, in a browser without script.</summary>
[Collection(ServiceCollection.Name)]
public sealed class KitPagesTests(RunningService service)
{
    private const string Kits = $"{Address}/kits", Forms = $"{Kits}/forms";

    [Fact]
    public async Task A_member_of_the_crew_counts_a_kit_and_the_lead_goes_on_with_what_came()
    {
        var (chain, week) = await Planned();
        using var crew = await chain.SignedIn("p3", Role.Crew, "harbour-street");
        crew.FormToken = null; // a form carries its own
        var kits = WebUtility.HtmlDecode(await Page(crew, Kits));
        Assert.All(["The one kit is not yet here and counted. “Forms” was said for Monday 8 March 12:00, and nobody has counted it in.",
            "It was to be here, and nobody has counted it in<", "For <bdi>Forms</bdi>"],
            text => Assert.Contains(text, kits));
        var form = PageForm.With(await Page(crew, Forms), "Sign the count")
            .Fill("lines[0].answer:row", "fewer").Fill("lines[0].received:row-number", "3");
        Assert.Equal(303, (await form.Send(crew)).Status);
        week.Clock.MoveTo("2027-03-08T18:01");
        Assert.Equal(303, (await form.Send(crew)).Status); // pressed twice

        Assert.Contains("Counted Monday 8 March 18:00 by Cleo Strand: 3 good of 4 form", WebUtility.HtmlDecode(await Page(crew, Kits)));
        Assert.Equal("Cleo Strand", (string?)(await week.Lead.Get(Forms)).Json["countedBy"]![0]);
        foreach (var outside in (ApiClient[])[chain.HeadOffice, chain.As("rena", Role.Region, "harbour-street")])
        {
            Assert.Null((await outside.Get(Forms)).Json["countedBy"]);
            foreach (var address in new[] { Forms, Kits })
                Assert.DoesNotContain("Cleo", (await ExpectStatus(200, outside.Get(address, ("Accept", "text/html")))).Text);
        }
        var page = WebUtility.HtmlDecode(await Page(crew, Forms));
        Assert.All(["Form: 3 good, 1 missing.", "“Set the forms” (", "Waits for an answer"], text => Assert.Contains(text, page));
        Assert.DoesNotContain("Go on with", page);
        Assert.Contains("“Forms” is short of form.", WebUtility.HtmlDecode(await Page(crew, Kits)));

        using var lead = await chain.SignedIn("lena", Role.Lead, "harbour-street");
        lead.FormToken = null;
        var settle = await Page(lead, Forms);
        Assert.Contains("Wait for the fourth", settle);
        Assert.Equal(303, (await PageForm.With(settle, "Go on with 3").Send(lead)).Status);
        Assert.True((bool)(await week.Week())["kits"]![0]!["lines"]![0]!["settled"]!);
        settle = WebUtility.HtmlDecode(await Page(lead, Forms));
        Assert.Contains("The work goes on with 3.", settle);
        Assert.Equal(303, (await PageForm.With(settle, "Wait for the rest of form after all").Send(lead)).Status);
        Assert.False((bool)(await week.Week())["kits"]![0]!["lines"]![0]!["settled"]!);
    }

    [Fact]
    public async Task A_lead_says_that_all_that_is_not_counted_is_here()
    {
        var (chain, week) = await Planned();
        using var crew = await chain.SignedIn("p3", Role.Crew, "harbour-street");
        Assert.DoesNotContain("All that is not counted is here", await Page(crew, Forms));
        using var lead = await chain.SignedIn("lena", Role.Lead, "harbour-street");
        lead.FormToken = null;
        Assert.Equal(303, (await PageForm.With(await Page(lead, Forms), "Sign the count").Fill("complete:boolean", "true").Send(lead)).Status);
        var line = (await week.Lead.Get(Forms)).Json["lines"]![0]!;
        Assert.Equal((4, "enough"), ((int)line["received"]!, (string?)line["state"]));
    }

    [Theory]
    [InlineData("asExpected", null, null, "4 good.")]
    [InlineData("damaged", null, "1", "3 good, 1 damaged.")]
    [InlineData("damaged", "3", "1", "2 good, 1 damaged, 1 missing.")]
    [InlineData("fewer", "0", null, "0 good, 4 missing.")]
    [InlineData(null, "3", null, "3 good, 1 missing.")]
    public async Task Each_answer_is_the_count_that_it_says(string? answer, string? came, string? damaged, string counted)
    {
        var (chain, _) = await Planned();
        using var crew = await chain.SignedIn("p3", Role.Crew, "harbour-street");
        crew.FormToken = null;
        var form = PageForm.With(await Page(crew, Forms), "Sign the count");
        if (answer is not null) form.Fill("lines[0].answer:row", answer);
        if (came is not null) form.Fill("lines[0].received:row-number", came);
        if (damaged is not null) form.Fill("lines[0].damaged:row-number", damaged);
        Assert.Equal(303, (await form.Send(crew)).Status);
        Assert.Contains($"Counted: {counted}", await Page(crew, Forms));
    }

    [Theory]
    [InlineData("asExpected", "3", null, "form-lines-0--answer-row")]
    [InlineData("fewer", null, null, "came-0")]
    [InlineData("damaged", null, null, "damaged-0")]
    [InlineData("damaged", "1", "2", "damaged-0")]
    [InlineData(null, null, "1", "came-0")]
    public async Task An_answer_without_its_number_or_against_it_is_refused(string? answer, string? came, string? damaged, string field)
    {
        var (chain, week) = await Planned();
        using var crew = await chain.SignedIn("p3", Role.Crew, "harbour-street");
        crew.FormToken = null;
        var form = PageForm.With(await Page(crew, Forms), "Sign the count");
        if (answer is not null) form.Fill("lines[0].answer:row", answer);
        if (came is not null) form.Fill("lines[0].received:row-number", came);
        if (damaged is not null) form.Fill("lines[0].damaged:row-number", damaged);
        var refused = await form.Send(crew);
        Assert.Equal(400, refused.Status);
        Assert.Contains($"id=\"{field}-fault\"", refused.Text);
        Assert.Null((await week.Week())["kits"]![0]!["arrived"]);
    }

    /// <summary>The most lines that a kit may have (WeekLimits.KitLines), each with an answer.</summary>
    [Fact]
    public async Task The_largest_kit_is_counted_with_its_form()
    {
        var chain = service.NewChain();
        var all = Enumerable.Range(1, WeekLimits.KitLines).Select(line => $$"""{"item": "form-{{line}}", "expected": 2}""");
        await new FirstRain(chain).Open(Direction.Replace("""{"item": "form", "expected": 4}""", string.Join(", ", all)));
        chain.Clock.MoveTo("2027-03-08T18:00");
        using var crew = await chain.SignedIn("p3", Role.Crew, "harbour-street");
        crew.FormToken = null;
        var form = PageForm.With(await Page(crew, Forms), "Sign the count");
        for (var line = 0; line < WeekLimits.KitLines; line++) form.Fill($"lines[{line}].answer:row", "asExpected");
        var sent = await form.Send(crew);
        Assert.True(sent.Status == 303, sent.Text);
        var lines = (await ExpectStatus(200, crew.Api.Get(Forms))).Json["lines"]!.AsArray();
        Assert.Equal(Enumerable.Repeat(2, WeekLimits.KitLines), lines.Select(line => (int)line!["received"]!));
    }

    [Fact]
    public async Task A_line_of_which_nothing_is_said_is_not_counted()
    {
        var (chain, _) = await Planned();
        using var crew = await chain.SignedIn("p3", Role.Crew, "harbour-street");
        crew.FormToken = null;
        Assert.Equal(303, (await PageForm.With(await Page(crew, Forms), "Sign the count").Send(crew)).Status);
        Assert.Contains("Not counted yet.", await Page(crew, Forms));
        Assert.Contains("Came Monday 8 March 18:00. Not counted yet<", await Page(crew, Kits));
    }

    [Fact]
    public async Task Programs_and_those_who_only_read_get_the_kit_without_a_form()
    {
        var (chain, week) = await Planned();
        var kit = (await ExpectStatus(200, week.Lead.Get(Forms))).Json;
        Assert.Equal(("notCounted", 4), ((string?)kit["lines"]![0]!["state"], (int)kit["lines"]![0]!["expected"]!));
        Assert.Equal("wall.forms", (string?)kit["waiting"]![0]!["task"]);
        Assert.Single((await ExpectStatus(200, week.Lead.Get(Kits))).Json["kits"]!.AsArray());
        Assert.Equal(404, (await week.Lead.Get($"{Kits}/glitter")).Status);
        using var region = await chain.SignedIn("rena", Role.Region, "harbour-street");
        Markup.AssertNoForm(await Page(region, Forms));
        using var head = await chain.SignedIn("head", Role.HeadOffice);
        Assert.DoesNotContain("Sign the count", await Page(head, Forms));
    }

    private async Task<(Chain, FirstRain)> Planned()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open(Direction.Replace("{\"kit\": \"forms\"}", "{\"kit\": \"forms\", \"item\": \"form\", \"count\": 4}"));
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T18:00");
        return (chain, week);
    }

    private static async Task<string> Page(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.Equal((200, "text/html"), (answer.Status, answer.ContentType));
        return answer.Text;
    }
}
