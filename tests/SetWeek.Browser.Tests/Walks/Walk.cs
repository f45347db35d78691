using Microsoft.Playwright;
using SetWeek.Browser.Tests.Pages;

namespace SetWeek.Browser.Tests.Walks;

/// <summary>What the walks do in each of their pages.</summary>
internal static class Walk
{
    /// <summary>Opens a page, and looks at it on every screen.</summary>
    /// <param name="sentence">A sentence of it.</param>
    public static async Task Opens(this Visit visit, string address, string sentence)
    {
        await visit.Page.GotoAsync(address);
        await Inspection.Look(visit.Page, sentence);
    }

    /// <summary>Presses a button, and waits for the page that it leads to.</summary>
    public static Task Press(this Visit visit, string button) => visit.Page.Leave(() =>
        visit.Page.GetByRole(AriaRole.Button, new() { Name = button, Exact = true }).ClickAsync());

    /// <summary>A browser writes every refusal to its console.</summary>
    public static void ComplainsOnlyOf(this Visit visit, params int[] refusals) => Assert.DoesNotContain(visit.Complaints, complaint =>
        !refusals.Any(status => complaint.Contains($"status of {status}", StringComparison.Ordinal)));
}
