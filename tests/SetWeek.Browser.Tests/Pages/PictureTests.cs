namespace SetWeek.Browser.Tests.Pages;

/// <summary>The pictures of the documentation are those of the pages: `ops/pictures` makes them again.</summary>
[Collection(SiteCollection.Name)]
public sealed class PictureTests(Site site)
{
    [BrowserFact]
    public async Task Each_picture_of_the_documentation_can_be_made_again()
    {
        var folder = Directory.CreateTempSubdirectory("setweek-pictures.");
        try
        {
            await Pictures.Make(await site.HarbourStreet, folder.FullName);
            foreach (var picture in Pictures.All)
            {
                var name = $"{picture.Name}.png";
                Assert.InRange(new FileInfo(Path.Combine(folder.FullName, name)).Length, 5_000, 400_000);
                Assert.True(File.Exists(StoreWeek.InRepository("docs", "images", name)), $"ops/pictures makes {name}.");
            }
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
