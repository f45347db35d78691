namespace SetWeek.Service.Pages.Html;

/// <summary>
/// A list after a table of many rows begins far below the window. It is laid out when it comes near, as a whole: each of its
/// items would otherwise get an empty box at once.
/// </summary>
internal static class FarList
{
    /// <summary>Rows that fill a phone some three times, which is further than a browser looks ahead.</summary>
    private const int ManyRows = 40;

    /// <summary>The class of a list after so many rows; null if it begins near.</summary>
    public static string? After(int rows) => rows >= ManyRows ? "far" : null;
}
