using System.Diagnostics;
using System.Text.Json.Nodes;
using SetWeek.Model.Files;
using SetWeek.Model.Weeks;

namespace SetWeek.Cli.Tests;

/// <summary>
/// Runs the program as a shell does, in a temporary folder that is deleted afterwards. It needs no database.
/// </summary>
internal sealed class Shell : IDisposable
{
    public static readonly string Program = Path.Combine(AppContext.BaseDirectory, "SetWeek.Cli.dll");
    public static readonly string BellYard = Example("bell-yard.week.json"), BellYardPlan = Example("bell-yard.plan.json");

    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("setweek-commands-");

    public sealed record ProgramResult(int Code, string Output, string Errors);

    public FileInfo[] Files => folder.GetFiles();

    public void Dispose() => folder.Delete(recursive: true);

    public static string Example(string name) => Path.Combine(Repository(AppContext.BaseDirectory), "docs", "examples", name);

    /// <summary>The root folder of the repository, which contains the solution.</summary>
    private static string Repository(string folder) => File.Exists(Path.Combine(folder, "SetWeek.sln")) ? folder
        : Repository(Path.GetDirectoryName(folder)
            ?? throw new DirectoryNotFoundException("SetWeek.sln is in no folder above the tests."));

    public string PathOf(string name) => Path.Combine(folder.FullName, name);

    public async Task<ProgramResult> Run(params string[] arguments)
    {
        using var process = Start("dotnet", [Program, .. arguments]);
        var (output, errors) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
        await process.WaitForExitAsync();
        return new ProgramResult(process.ExitCode, await output, await errors);
    }

    public Process Start(string program, params string[] arguments) => Process.Start(new ProcessStartInfo(program, arguments)
    {
        RedirectStandardOutput = true, RedirectStandardError = true, WorkingDirectory = folder.FullName,
    })!;

    /// <summary>Writes a changed copy of a JSON file into the temporary folder and returns its path.</summary>
    public string Changed(string from, string name, Action<JsonNode> change)
    {
        var root = JsonNode.Parse(File.ReadAllBytes(from))!;
        change(root);
        File.WriteAllText(PathOf(name), root.ToJsonString());
        return PathOf(name);
    }

    /// <summary>A week of one night with two people and one task of an hour, which needs a kit.</summary>
    public string EasyWeek(Action<JsonNode>? change = null)
    {
        var week = new Week
        {
            Id = "easy", Currency = "GBP", Launch = new(2027, 3, 9, 9, 0),
            Store = new Store { Id = "bell-yard", TimeZone = "Europe/London", Zones = [new("floor", "Sales floor")] },
            Nights = [new("mon", new(2027, 3, 8, 20, 0), new(2027, 3, 9, 2, 0))],
            Crew = [.. new[] { "Ada", "Bo" }.Select(name => new CrewMember
            {
                Id = name.ToLowerInvariant(), Name = name, Skills = new Dictionary<string, int> { ["stock"] = 1 },
                RatePerHour = 1200, Available = [new("mon")],
            })],
            Kits = [new("rails", "Rails", new(2027, 3, 8, 14, 0))],
            Displays = [new("rails", "Rails", DisplayCommitment.Must)],
            Tasks = [new() { Id = "rails.move", Name = "Move the rails", Display = "rails", Zone = "floor",
                Modes = [new(60, [new("stock", 2)])], Needs = [new("rails")] }],
            Rules = new RuleSet { MinShiftMinutes = 120, MinPeople = 2, ShiftGridMinutes = 15, NoticeMinutes = 1440 },
        };
        var path = PathOf($"easy{Files.Length}.week.json");
        var root = JsonNode.Parse(WeekFile.Write(week))!;
        change?.Invoke(root);
        File.WriteAllText(path, root.ToJsonString());
        return path;
    }
}
