namespace SetWeek.Service.Pages.Files;

/// <summary>
/// The style sheet of the pages. Each idea has a file of its own in <c>Pages/Style</c>; a browser loads them joined, as one file.
/// </summary>
public static class StyleSheet
{
    public const string Name = "setweek.css";

    /// <summary>
    /// The parts in their order: of two rules that weigh the same, the later one wins (CSS Cascade Level 4, section 6).
    /// </summary>
    public static IReadOnlyList<string> Parts { get; } =
    [
        "foundations.css", "frame.css", "controls.css", "marks.css", "tables.css", "drawings.css",
        "weeks.css", "phones.css", "subjects.css", "directions.css", "widths.css", "work.css",
        "paper.css", "desk.css", "forms.css", "reach.css",
    ];

    /// <param name="read">Reads a part by its name.</param>
    public static byte[] Joined(Func<string, byte[]> read) => [.. Parts.SelectMany(part => (byte[])[.. read(part), .. "\n"u8])];
}
