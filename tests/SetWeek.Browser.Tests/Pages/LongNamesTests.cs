using SetWeek.Service.Access;
using SetWeek.Service.Tests;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>Names that are long, or are written from right to left, fit every page, also at 200 % zoom.</summary>
[Collection(SiteCollection.Name)]
public sealed class LongNamesTests(Site site)
{
    /// <summary>Thirty-five letters without a place to break, and two more names.</summary>
    private const string
        Long = "Wolfeschlegelsteinhausenbergerdorff Featherstonehaugh-Cholmondeley Marjoribanks",
        RightToLeft = "عبد الرحمن بن عبد العزيز الطويل", Hebrew = "נועה בן־שחר לבית המדרש הגדול";

    [BrowserTheory]
    [InlineData("/plan"), InlineData("/plan/risk")]
    [InlineData("/nights/monday/sheet"), InlineData("/nights/monday/sheet?person=p1")]
    public async Task No_page_scrolls_sideways(string page)
    {
        var week = await StoreWeek.Open(site,
            FirstRain.Direction.Replace("Paint the wall", $"Paint the {Long}").Replace("Painted wall", Long)
                .Replace("Set the forms", Hebrew),
            Samples.Store(name: $"{Long} {Hebrew}").Replace("Show window", Long),
            FirstRain.Opening.Replace("Asha Rowan", RightToLeft).Replace("Ben Marsh", Long).Replace("Cleo Strand", Hebrew));
        await week.PlanAndPublish();
        await using var visit = await week.SignedIn("lena", Role.Lead);
        var faults = new List<string>();
        foreach (var width in new[] { 360, 640, 820 }) // 640: a window of 1280 at 200 % (WCAG 2.2, 1.4.4)
        {
            await visit.Page.SetViewportSizeAsync(width, 800);
            await visit.Page.GotoAsync($"{week.Address}{page}");
            Assert.Contains(Long, await visit.Page.ContentAsync());
            faults.AddRange((await Inspection.FaultsOf(visit.Page, isPhone: false)).Select(fault => $"{width}: {fault}"));
        }
        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }
}
