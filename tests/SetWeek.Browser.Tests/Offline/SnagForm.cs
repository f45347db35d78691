using Microsoft.Playwright;
using SetWeek.Service.Tests.Photos;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>The form of a new snag, as somebody fills it in.</summary>
internal static class SnagForm
{
    /// <summary>Fills in the form with a photograph.</summary>
    /// <param name="bytes">Of the photograph, at least; a phone's file goes on behind the picture.</param>
    /// <returns>The bytes of the photograph.</returns>
    public static async Task<int> FillInSnag(this IPage page, int bytes = 0, int width = 800)
    {
        var picture = TestPictures.Jpeg(width, 600);
        byte[] photo = [.. picture, .. new byte[Math.Max(0, bytes - picture.Length)]];
        await page.GetByLabel("Photograph, if it helps").SetInputFilesAsync(
            new FilePayload { Name = $"{width}.jpg", MimeType = "image/jpeg", Buffer = photo });
        await page.GetByLabel("What", new() { Exact = true }).FillAsync("Skirting chipped");
        await page.GetByLabel("Where", new() { Exact = true }).SelectOptionAsync("window");
        return photo.Length;
    }
}
