using Microsoft.Playwright;
using SetWeek.Service.Access;
using Xunit.Abstractions;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>The pages of the largest week open, can be read, fit, and stay small.</summary>
[Collection(SiteCollection.Name)]
public sealed class LargestWeekTests(Site site, ITestOutputHelper output)
{
    [BrowserFact]
    public async Task Its_pages_open_without_a_fault_and_none_scrolls_sideways_or_is_heavy()
    {
        var week = await LargestWeek.InItsFirstNight(site);
        var faults = new List<string>();
        foreach (var (role, person, address) in new (Role, string, string)[]
        {
            (Role.Lead, "lena", $"{week.Address}/plan"), (Role.Lead, "lena", $"{week.Address}/plan?night=n11"),
            (Role.Lead, "lena", $"{week.Address}/tonight"), (Role.Lead, "lena", $"{week.Address}/nights/n1/opening"),
            (Role.Lead, "lena", $"{week.Address}/crew"), (Role.Lead, "lena", $"{week.Address}/facts"),
            (Role.Lead, "lena", $"{week.Address}/told"), (Role.Lead, "lena", $"{week.Address}/hours"),
            (Role.Crew, "c1", $"{week.Address}/nights/n1/sheet?person=c1"), (Role.HeadOffice, "head", "/stores"),
        })
        {
            await using var visit = await site.Open();
            await visit.SignInUnseen(week.Chain, person, role, role == Role.HeadOffice ? [] : [week.Store]);
            await visit.Page.SetViewportSizeAsync(360, 900);
            IResponse? answer = null;
            var bytes = await Transfer.Of(visit, async () => answer = await visit.Page.GotoAsync(address));
            if (answer!.Status != 200) faults.Add($"{address}: {answer.Status}");
            if (bytes > Transfer.Most) faults.Add($"{address}: {bytes / 1000:F0} kB");
            faults.AddRange((await Inspection.FaultsOf(visit.Page, isPhone: false)).Select(fault => $"{address}: {fault}"));
            foreach (var width in new[] { 820, 1440 })
            {
                await visit.Page.SetViewportSizeAsync(width, 900);
                faults.AddRange((await Inspection.Sideways(visit.Page)).Select(fault => $"{address} at {width}: {fault}"));
            }
            faults.AddRange(visit.Complaints.Select(complaint => $"{address}: {complaint}"));
            output.WriteLine($"{address}: {bytes / 1000:F0} kB");
        }
        Assert.True(faults.Count == 0, string.Join('\n', faults));
        await A_link_to_a_piece_leads_to_it(week);
    }

    /// <summary>Pieces far below the window are laid out late, but not where the address names one of them.</summary>
    private async Task A_link_to_a_piece_leads_to_it(StoreWeek week)
    {
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
}
