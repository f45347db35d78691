using SetWeek.Browser.Tests;
using SetWeek.Browser.Tests.Pages;

// What else is done with the pages in a browser than testing them: ops/bench and ops/pictures run it.
var site = new Site();
await site.InitializeAsync();
try
{
    switch (args)
    {
        case ["speed", .. var rest]:
            await PageSpeed.Print(site, PageSpeed.OpeningsOf(rest.ElementAtOrDefault(0)));
            return 0;
        case ["pictures", var folder]:
            await Pictures.Make(await StoreWeek.OfDemo(site, Pictures.Chain), folder);
            return 0;
        default:
            Console.Error.WriteLine("Usage: speed [OPENINGS] | pictures FOLDER");
            return 2;
    }
}
finally
{
    await site.DisposeAsync();
}
