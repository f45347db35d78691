using SetWeek.Browser.Tests.Pages;
using SetWeek.Service.Access;
using SetWeek.Service.Tests;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Browser.Tests.Names;

/// <summary>Names that are long, or are written from right to left, fit every page, also at 200 % zoom.</summary>
[Collection(SiteCollection.Name)]
public sealed class LongNamesTests(Site site)
{
    /// <summary>Thirty-five letters without a place to break, and two more names.</summary>
    private const string
        Long = "Wolfeschlegelsteinhausenbergerdorff Featherstonehaugh-Cholmondeley Marjoribanks",
        RightToLeft = "عبد الرحمن بن عبد العزيز الطويل", Hebrew = "נועה בן־שחר לבית המדרש הגדול";

    [BrowserFact]
    public async Task No_page_scrolls_sideways()
    {
        var week = await StoreWeek.Open(site,
            FirstRain.Direction.Replace("Paint the wall", $"Paint the {Long}").Replace("Painted wall", Long)
                .Replace("Set the forms", Hebrew).Replace("\"name\": \"Forms\"", $"\"name\": \"{Long} {RightToLeft}\"")
                .Replace("Mask the edges.", $"Mask {Long}.").Replace("No bare spot.", $"No bare spot on {RightToLeft}."),
            Samples.Store(name: $"{Long} {Hebrew}").Replace("Show window", Long),
            FirstRain.Opening.Replace("Asha Rowan", RightToLeft).Replace("Ben Marsh", Long).Replace("Cleo Strand", Hebrew));
        await week.PlanAndPublish();
        week.MoveTo("2027-03-08T20:10");
        await using var lead = await week.SignedIn("lena", Role.Lead);
        await using var head = await site.SignedIn(week.Chain, "head", Role.HeadOffice);
        await week.Enrol(lead.Page);
        var faults = new List<string>();
        foreach (var (visit, page, isPhone) in new[]
        {
            (lead, $"{week.Address}/plan", false), (lead, $"{week.Address}/plan/risk", false),
            (lead, $"{week.Address}/nights/monday/sheet", false), (lead, $"{week.Address}/nights/monday/sheet?person=p1", true),
            (lead, $"{week.Address}/nights/monday/pieces/101?act=finish", true),
            (lead, $"{week.Address}/nights/monday/opening", true), (lead, $"{week.Address}/kits", false),
            (lead, $"{week.Address}/kits/forms", true), (lead, $"{week.Address}/crew", false),
            (lead, $"{week.Address}/told", false), (lead, "/phone", true), (head, "/stores", false),
        })
        {
            await visit.Page.GotoAsync(page);
            Assert.Contains(Long, await visit.Page.ContentAsync());
            foreach (var width in new[] { 360, 640, 820 }) // 640: a window of 1280 at 200 % (WCAG 2.2, 1.4.4)
            {
                await visit.Page.SetViewportSizeAsync(width, 800);
                faults.AddRange((await Inspection.FaultsOf(visit.Page, isPhone)).Select(fault => $"{page}, {width}: {fault}"));
            }
        }
        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }
}
