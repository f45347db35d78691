using SetWeek.Service.Access;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>The pictures of docs/images, made from the demo's week in its first night.</summary>
internal static class Pictures
{
    /// <summary>The invented chain of the demo, whose name the pages show.</summary>
    public const string Chain = "quillmere";

    /// <param name="Name">The name of its file, without its kind.</param>
    /// <param name="Address">Where the page is; "{week}" is the address of the week.</param>
    public sealed record Picture(string Name, Role Role, string Person, string Address, int Width, int Height);

    public static IReadOnlyList<Picture> All { get; } =
    [
        new("week", Role.Lead, "lena", "{week}/plan", 1280, 900),
        new("tonight", Role.Crew, "maud", "{week}/nights/night-1/sheet?person=maud", 390, 844),
        new("stores", Role.HeadOffice, "ada", "/stores", 1280, 900),
    ];

    public static async Task Make(StoreWeek week, string folder)
    {
        foreach (var picture in All)
        {
            await using var visit = await week.SignedIn(picture.Person, picture.Role);
            await visit.Page.SetViewportSizeAsync(picture.Width, picture.Height);
            await visit.Page.GotoAsync(picture.Address.Replace("{week}", week.Address));
            await visit.Page.EvaluateAsync("document.fonts.ready");
            await visit.Page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"{picture.Name}.png") });
        }
    }
}
