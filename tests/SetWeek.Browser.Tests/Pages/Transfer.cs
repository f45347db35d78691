using Microsoft.Playwright;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>What a browser receives, as it is sent: compressed, with headers.</summary>
internal sealed class Transfer
{
    /// <summary>The most bytes of a first load, with style sheet, fonts, modules and icons.</summary>
    public const int Most = 150_000;

    private double bytes;

    private Transfer()
    {
    }

    /// <summary>So far.</summary>
    public double Bytes => bytes;

    /// <summary>Counts from now on.</summary>
    public static async Task<Transfer> Watch(Visit visit)
    {
        var transfer = new Transfer();
        var devtools = await visit.Context.NewCDPSessionAsync(visit.Page);
        await devtools.SendAsync("Network.enable");
        devtools.Event("Network.loadingFinished").OnEvent += (_, loaded) =>
            transfer.bytes += loaded!.Value.GetProperty("encodedDataLength").GetDouble();
        return transfer;
    }

    /// <returns>Bytes, until nothing more is loaded.</returns>
    public static async Task<double> Of(Visit visit, Func<Task> load)
    {
        var transfer = await Watch(visit);
        await load();
        await visit.Page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await visit.Page.EvaluateAsync("document.fonts.ready");
        await visit.Page.WaitForTimeoutAsync(200);
        return transfer.Bytes;
    }
}
