using System.Net;
using System.Text.RegularExpressions;
using SetWeek.Service.Access;
using SetWeek.Service.Printing.Sheets;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Printing;

/// <summary>The addresses of what is printed.</summary>
[Collection(ServiceCollection.Name)]
public sealed class NightPaperTests(RunningService service)
{
    private const string Night = $"{Address}/nights/monday", WallChart = $"{Address}/plan/wall-chart.pdf";

    [Fact]
    public async Task Every_role_of_the_store_prints_every_sheet_and_other_stores_none()
    {
        var (chain, week) = await Published();
        ApiClient[] readers = [week.Lead, chain.As("cy", Role.Crew, "harbour-street"),
            chain.As("rae", Role.Region, "harbour-street"), chain.HeadOffice, chain.As("eng", Role.Engineer)];
        foreach (var address in SheetKind.All.Select(kind => $"{Night}/sheets/{kind.Id}.pdf").Append(WallChart))
        {
            foreach (var reader in readers)
            {
                var answer = await ExpectStatus(200, reader.Get(address));
                Assert.Equal("application/pdf", answer.ContentType);
                Assert.StartsWith("%PDF-1.", answer.Text, StringComparison.Ordinal);
            }
            Assert.Equal(404, (await chain.As("cy", Role.Crew, "mill-lane").Get(address)).Status);
        }
    }

    [Fact]
    public async Task What_is_not_there_is_said()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        Assert.Equal((404, "nothing-published"), await StatusAndCode(week.Lead.Get($"{Night}/sheets/lead.pdf")));
        Assert.Equal((404, "nothing-published"), await StatusAndCode(week.Lead.Get(WallChart)));
        await week.PlanAndPublish();
        foreach (var address in (string[])["nights/sunday/sheets/lead.pdf", "nights/monday/sheets/lead",
            "nights/monday/sheets/cook.pdf", "nights/monday/sheets/crew.pdf?person=nobody"])
            Assert.Equal(404, (await week.Lead.Get($"{Address}/{address}")).Status);
        Assert.Contains("lead.pdf, crew.pdf", (await week.Lead.Get($"{Night}/sheets/cook.pdf")).Text);
        Assert.Equal((422, "unknown-paper"), await StatusAndCode(week.Lead.Get($"{Night}/sheets/lead.pdf?paper=a5")));
        Assert.Equal((422, "not-of-a-person"), await StatusAndCode(week.Lead.Get($"{Night}/sheets/lead.pdf?person=p1")));
        Assert.Equal(200, (await week.Lead.Get($"{Night}/sheets/crew.pdf?person=p1&paper=letter")).Status);
    }

    /// <summary>The tag is that of the week's version, and weak: the time of printing is on the sheet.</summary>
    [Fact]
    public async Task An_unchanged_week_is_not_sent_again()
    {
        var (_, week) = await Published();
        foreach (var address in (string[])[$"{Night}/sheets/lead.pdf", WallChart])
        {
            var first = await ExpectStatus(200, week.Lead.Get(address));
            Assert.Equal($"W/{await week.ETag()}", first.ETag);
            Assert.Equal(304, (await week.Lead.Get(address, ("If-None-Match", first.ETag!))).Status);
        }
        var before = (await week.Lead.Get($"{Night}/sheets/lead.pdf")).ETag!;
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p3/absent", """{"night": "monday"}"""));
        Assert.Equal(200, (await week.Lead.Get($"{Night}/sheets/lead.pdf", ("If-None-Match", before))).Status);
    }

    [Fact]
    public async Task The_pages_lead_to_what_can_be_printed()
    {
        var (_, week) = await Published();
        var page = (await ExpectStatus(200, week.Lead.Get($"{Night}/sheet", ("Accept", "text/html")))).Text;
        var links = Regex.Matches(page, "href=\"(sheets/[^\"]+)\"")
            .Select(link => WebUtility.HtmlDecode(link.Groups[1].Value)).ToList();
        Assert.Equal(SheetKind.All.SelectMany(kind => (string[])[$"sheets/{kind.Id}.pdf", $"sheets/{kind.Id}.pdf?paper=letter"]),
            links);
        foreach (var link in links)
        {
            var sheet = (await ExpectStatus(200, week.Lead.Get($"{Night}/{link}"))).Text;
            // Letter is 8.5 by 11 inches (ANSI/ASME Y14.1, from memory), and an inch has 72 points.
            Assert.Equal(link.EndsWith("paper=letter", StringComparison.Ordinal),
                Regex.IsMatch(sheet, @"/MediaBox\s*\[\s*0 0 612(\.0+)? 792(\.0+)?\s*\]"));
        }
        Assert.Equal(SheetKind.All.Count, Regex.Count(page, " on Letter\">Letter</a>"));
        var own = (await ExpectStatus(200, week.Lead.Get($"{Night}/sheet?person=p1", ("Accept", "text/html")))).Text;
        Assert.Contains("href=\"sheets/crew.pdf?person=p1\"", own);
        Assert.Contains("href=\"sheets/crew.pdf?person=p1&amp;paper=letter\"", own);
        Assert.Contains($"href=\"{WallChart}\"", (await week.Lead.Get($"{Address}/plan", ("Accept", "text/html"))).Text);
    }

    private async Task<(Chain Chain, FirstRain Week)> Published()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        return (chain, week);
    }

    private static async Task<(int, string?)> StatusAndCode(Task<ApiResponse> request) =>
        await request is var heard ? (heard.Status, heard.Code) : default;
}
