using System.Diagnostics;
using System.Globalization;
using SetWeek.Model.Tests;

namespace SetWeek.Planning.Tests.Reference;

/// <summary>
/// Runs MiniZinc with the solver Gecode, both independent of the planner. The models are the .mzn files in this folder.
/// </summary>
internal static class MiniZinc
{
    public const string MissingMessage =
        "MiniZinc is not on the PATH, so the independent reference did not run. Debian, Ubuntu: apt-get install minizinc.";

    private static readonly TimeSpan Timeout = TimeSpan.FromSeconds(60);

    public static bool IsInstalled { get; } = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(':')
        .Any(folder => folder.Length > 0 && File.Exists(Path.Combine(folder, "minizinc")));

    /// <summary>
    /// The proven minimum, or null if the instance is proven infeasible. Throws if nothing is proven in time.
    /// </summary>
    public static async Task<long?> Minimum(string model, string data)
    {
        var folder = Directory.CreateTempSubdirectory("setweek-reference-");
        try
        {
            var file = Path.Combine(folder.FullName, "instance.dzn");
            await File.WriteAllTextAsync(file, data);
            var start = new ProcessStartInfo("minizinc",
                ["--solver", "gecode", "--time-limit", Timeout.TotalMilliseconds.ToString(CultureInfo.InvariantCulture),
                    ModelPath(model), file])
            {
                RedirectStandardOutput = true, RedirectStandardError = true,
            };
            using var process = Process.Start(start)!;
            var (output, errors) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
            await process.WaitForExitAsync();
            var lines = (await output).Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
            if (lines.Contains("=====UNSATISFIABLE=====")) return null;
            return lines.Contains("==========") ? lines.Where(line => char.IsAsciiDigit(line[0])).Select(long.Parse).Last()
                : throw new InvalidOperationException($"{model} proved nothing within {Timeout}: {await output}{await errors}");
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static string ModelPath(string name) => Path.Combine(AppContext.BaseDirectory, "Reference", name);
}

/// <summary>A test that needs MiniZinc and perhaps a published data set. It is skipped where either is absent.</summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class MiniZincTheoryAttribute : TheoryAttribute
{
    public MiniZincTheoryAttribute(string? data = null) =>
        Skip = !MiniZinc.IsInstalled ? MiniZinc.MissingMessage : data is null ? null : OpenData.SkipReason(data);
}
