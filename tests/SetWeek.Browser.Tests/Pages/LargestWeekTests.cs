using Microsoft.Playwright;
using SetWeek.Service.Access;
using Xunit.Abstractions;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>The pages of the largest week open, can be read, fit, and stay small.</summary>
[Collection(SiteCollection.Name)]
public sealed class LargestWeekTests(Site site, ITestOutputHelper output)
{
    /// <param name="address">Below the address of the week, unless it begins with a slash.</param>
    [BrowserTheory]
    [InlineData(Role.Lead, "lena", "plan"), InlineData(Role.Lead, "lena", "plan?night=n11")]
    [InlineData(Role.Lead, "lena", "tonight"), InlineData(Role.Lead, "lena", "nights/n1/opening")]
    [InlineData(Role.Lead, "lena", "crew"), InlineData(Role.Lead, "lena", "facts")]
    [InlineData(Role.Lead, "lena", "told"), InlineData(Role.Lead, "lena", "hours")]
    [InlineData(Role.Crew, "c1", "nights/n1/sheet?person=c1"), InlineData(Role.HeadOffice, "head", "/stores")]
    public async Task A_page_opens_without_a_fault_does_not_scroll_sideways_and_is_not_heavy(Role role, string person, string address)
    {
        var week = await Week();
        await using var visit = await site.Open();
        await visit.SignInUnseen(week.Chain, person, role, role == Role.HeadOffice ? [] : [week.Store]);
        await visit.Page.SetViewportSizeAsync(360, 900);
        IResponse? answer = null;
        var bytes = await Transfer.Of(visit, async () =>
            answer = await visit.Page.GotoAsync(address.StartsWith('/') ? address : $"{week.Address}/{address}"));
        output.WriteLine($"{bytes / 1000:F0} kB");
        var faults = new List<string>();
        if (answer!.Status != 200) faults.Add($"{answer.Status}");
        if (bytes > Transfer.Most) faults.Add($"{bytes / 1000:F0} kB");
        faults.AddRange(await Inspection.FaultsOf(visit.Page, isPhone: false));
        foreach (var width in new[] { 820, 1440 })
        {
            await visit.Page.SetViewportSizeAsync(width, 900);
            faults.AddRange((await Inspection.Sideways(visit.Page)).Select(fault => $"at {width}: {fault}"));
        }
        faults.AddRange(visit.Complaints);
        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    /// <summary>Pieces far below the window are laid out late, but not where the address names one of them.</summary>
    [BrowserFact]
    public async Task A_link_to_a_piece_leads_to_it()
    {
        var week = await Week();
        await using var visit = await site.Open();
        await visit.SignInUnseen(week.Chain, "lena", Role.Lead, week.Store);
        await visit.Page.GotoAsync($"{week.Address}/nights/n1/sheet");
        var last = visit.Page.Locator(".run > li").Last;
        Assert.False(await last.Locator("h3").EvaluateAsync<bool>("name => name.checkVisibility({ contentVisibilityAuto: true })"));
        var piece = await last.GetAttributeAsync("id");
        await visit.Page.GotoAsync($"{week.Address}/tonight"); // another page, so that the next is loaded
        await visit.Page.GotoAsync($"{week.Address}/nights/n1/sheet#{piece}");
        await visit.Page.WaitForFunctionAsync("id => { const box = document.getElementById(id).getBoundingClientRect(); "
            + "return box.top >= 0 && box.bottom <= innerHeight; }", piece);
    }

    private async Task<StoreWeek> Week()
    {
        var week = await site.LargestWeek;
        week.MoveTo(week.Time);
        return week;
    }
}
