using SetWeek.Model.Files;
using SetWeek.Model.Weeks;

namespace SetWeek.Bench;

/// <summary>The generated weeks of fixed seeds, and the weeks of docs/examples.</summary>
internal static class FixedWeeks
{
    public static IEnumerable<Week> All() => WeekGenerator.Fixed.Select(week => WeekGenerator.Make(week.Size, week.Seed))
        .Concat(Directory.GetFiles(Examples(AppContext.BaseDirectory), "*.week.json").Order(StringComparer.Ordinal)
            .Select(file => WeekFile.Read(File.ReadAllBytes(file)).AsT0));

    private static string Examples(string folder) => Path.Combine(folder, "docs", "examples") is var examples
        && Directory.Exists(examples) ? examples
        : Examples(Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("docs/examples"));
}
