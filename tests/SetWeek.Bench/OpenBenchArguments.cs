using System.Globalization;
using SetWeek.Bench.Contenders;
using SetWeek.Bench.Instances;
using SetWeek.Planning.Search;

namespace SetWeek.Bench;

/// <summary>
/// Arguments of rcpsp, multiskill and side-by-side: [DIR] [--set NAME] [--all | --thin N] [--seconds N] [--workers N]
/// [--schedules N].
/// </summary>
internal sealed record OpenBenchArguments
{
    public string? Folder { get; private set; }
    public string? Set { get; private set; }
    public bool All { get; private set; }
    public int ThinningFactor { get; private set; } = 1;
    public SearchLimits Limits { get; private set; } = new();

    /// <summary>Limit on the number of schedules, by which the literature compares. Null: the time limit counts.</summary>
    public int? Schedules { get; private set; }

    private Contender[] DefaultContenders => Schedules is { } limit ? [Contender.Lists(limit)]
        : [Contender.Planner, Contender.Lists()];

    public static OpenBenchArguments? Read(IEnumerable<string> words)
    {
        var (read, remaining) = (new OpenBenchArguments(), new Queue<string>(words));
        while (remaining.TryDequeue(out var word))
        {
            if (word == "--all") read.All = true;
            else if (!word.StartsWith("--", StringComparison.Ordinal)) read.Folder = word;
            else if (!remaining.TryDequeue(out var value) || !read.SetOption(word, value)) return null;
        }
        return read;
    }

    public int Projects() => Run(OpenSets.Projects(FolderOf("rcpsp")), DefaultContenders);

    public int Teams() => Run(OpenSets.Teams(FolderOf("multiskill")), DefaultContenders);

    /// <summary>Both kinds of instance with all contenders, from the folder of all data sets.</summary>
    public int SideBySide() => Run(
        OpenSets.Projects(Path.Combine(FolderOf(""), "rcpsp")).Concat(OpenSets.Teams(Path.Combine(FolderOf(""), "multiskill"))),
        Contender.All);

    private int Run(IEnumerable<OpenInstance> instances, IReadOnlyList<Contender> contenders)
    {
        var selected = instances.Where(instance => Set is null || instance.Set == Set).ToList();
        return OpenBench.Run(All ? selected : OpenSets.Sample(selected, ThinningFactor), contenders, Limits, Schedules);
    }

    private string FolderOf(string name) =>
        Folder ?? Path.Combine(Environment.GetEnvironmentVariable("SETWEEK_DATA") ?? "", name);

    private bool SetOption(string option, string value)
    {
        if (option == "--set") Set = value;
        else if (!double.TryParse(value, CultureInfo.InvariantCulture, out var number) || number <= 0) return false;
        else if (option == "--thin") ThinningFactor = (int)number;
        else if (option == "--seconds") Limits = Limits with { Time = TimeSpan.FromSeconds(number) };
        else if (option == "--workers") Limits = Limits with { Workers = (int)number };
        else if (option == "--schedules") Schedules = (int)number;
        else return false;
        return true;
    }
}
