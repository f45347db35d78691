using Microsoft.Playwright;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>What a browser receives, as it is sent: compressed, with headers.</summary>
internal static class Transfer
{
    /// <returns>Bytes, until nothing more is loaded.</returns>
    public static async Task<double> Of(Visit visit, Func<Task> load)
    {
        var devtools = await visit.Context.NewCDPSessionAsync(visit.Page);
        await devtools.SendAsync("Network.enable");
        var bytes = 0.0;
        devtools.Event("Network.loadingFinished").OnEvent += (_, loaded) =>
            bytes += loaded!.Value.GetProperty("encodedDataLength").GetDouble();
        await load();
        await visit.Page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await visit.Page.EvaluateAsync("document.fonts.ready");
        await visit.Page.WaitForTimeoutAsync(200);
        return bytes;
    }
}
