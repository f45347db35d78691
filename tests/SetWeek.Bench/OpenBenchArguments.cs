using System.Globalization;
using SetWeek.Bench.Contenders;
using SetWeek.Bench.Instances;
using SetWeek.Planning.Search;

namespace SetWeek.Bench;

/// <summary>
/// What follows rcpsp, multiskill and side-by-side: [DIR] [--set NAME] [--all | --thin N] [--seconds N] [--workers N]
/// [--schedules N].
/// </summary>
internal sealed record OpenBenchArguments
{
    public string? Folder { get; private set; }
    public string? Set { get; private set; }
    public bool All { get; private set; }
    public int ThinningFactor { get; private set; } = 1;
    public SearchLimits Limits { get; private set; } = new();

    /// <summary>So many schedules, whatever time they take: what the literature compares by. Null: time is what counts.</summary>
    public int? Schedules { get; private set; }

    private Contender[] Usual => Schedules is { } most ? [Contender.Lists(most)] : [Contender.Planner, Contender.Lists()];

    public static OpenBenchArguments? Read(IEnumerable<string> words)
    {
        var (read, left) = (new OpenBenchArguments(), new Queue<string>(words));
        while (left.TryDequeue(out var word))
        {
            if (word == "--all") read.All = true;
            else if (!word.StartsWith("--", StringComparison.Ordinal)) read.Folder = word;
            else if (!left.TryDequeue(out var value) || !read.Take(word, value)) return null;
        }
        return read;
    }

    public int Projects() => Run(OpenSets.Projects(FolderOf("rcpsp")), Usual);

    public int Teams() => Run(OpenSets.Teams(FolderOf("multiskill")), Usual);

    /// <summary>Both, from the folder of all open data.</summary>
    public int SideBySide() => Run(
        OpenSets.Projects(Path.Combine(FolderOf(""), "rcpsp")).Concat(OpenSets.Teams(Path.Combine(FolderOf(""), "multiskill"))),
        Contender.All);

    private int Run(IEnumerable<OpenInstance> instances, IReadOnlyList<Contender> contenders)
    {
        var wanted = instances.Where(instance => Set is null || instance.Set == Set).ToList();
        return OpenBench.Run(All ? wanted : OpenSets.Sample(wanted, ThinningFactor), contenders, Limits, Schedules);
    }

    private string FolderOf(string name) =>
        Folder ?? Path.Combine(Environment.GetEnvironmentVariable("SETWEEK_DATA") ?? "", name);

    private bool Take(string option, string value)
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
