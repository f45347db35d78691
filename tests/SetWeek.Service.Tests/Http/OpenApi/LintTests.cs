using System.Diagnostics;

namespace SetWeek.Service.Tests.Http.OpenApi;

/// <summary>Redocly's linter reads the description. `ops/test` installs it where npm is.</summary>
public sealed class LintTests
{
    [RedoclyFact]
    public async Task The_linter_finds_no_error()
    {
        var folder = Directory.CreateTempSubdirectory("setweek-description-");
        try
        {
            var file = Path.Combine(folder.FullName, "openapi.json");
            await File.WriteAllTextAsync(file, DescribedAnswers.Description.ToJsonString());
            Assert.Equal((0, ""), await Lint(file));
            // The linter is able to fail: the same description with a reference to nothing.
            await File.WriteAllTextAsync(file,
                DescribedAnswers.Description.ToJsonString().Replace("schemas/PlanFileGoal\"", "schemas/Nothing\""));
            Assert.NotEqual(0, (await Lint(file)).Code);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    /// <returns>The exit code, and the errors.</returns>
    private static async Task<(int Code, string Errors)> Lint(string file)
    {
        var start = new ProcessStartInfo("redocly", ["lint", file, "--format=github-actions"])
        {
            RedirectStandardOutput = true, RedirectStandardError = true, WorkingDirectory = Path.GetDirectoryName(file),
        };
        start.Environment["REDOCLY_TELEMETRY"] = "off";
        start.Environment["REDOCLY_SUPPRESS_UPDATE_NOTICE"] = "true";
        using var process = Process.Start(start)!;
        var (output, errors) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
        await process.WaitForExitAsync(new CancellationTokenSource(TimeSpan.FromMinutes(2)).Token);
        await errors;
        return (process.ExitCode, string.Join('\n', (await output).Split('\n')
            .Where(line => line.StartsWith("::error", StringComparison.Ordinal))));
    }
}

/// <summary>A test that needs redocly on the PATH. It is skipped without it.</summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class RedoclyFactAttribute : FactAttribute
{
    public RedoclyFactAttribute()
    {
        if (!(Environment.GetEnvironmentVariable("PATH") ?? "").Split(':')
            .Any(folder => folder.Length > 0 && File.Exists(Path.Combine(folder, "redocly"))))
            Skip = "redocly is not on the PATH, so the API description was not linted: npm install --global @redocly/cli@2.77.0.";
    }
}
