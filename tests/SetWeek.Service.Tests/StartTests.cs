using System.Diagnostics;
using System.Text.Json;
using SetWeek.Service.Access;

namespace SetWeek.Service.Tests;

/// <summary>`serve` as a process whose database or key cannot be used.</summary>
public sealed class StartTests
{
    [Fact]
    public async Task A_database_that_is_down_is_one_sentence_and_an_exit_code()
    {
        var (code, output, errors) = await Serve("Host=127.0.0.1;Port=1;Username=setweek;Database=setweek;Password=secret-word");
        Assert.Equal((1, ""), (code, output));
        Assert.Matches(@"^PostgreSQL at 127\.0\.0\.1:1 does not answer \(.*\)\. Start it, or correct SETWEEK_POSTGRES\.\n$", errors);
        Assert.DoesNotContain("secret-word", errors);
    }

    [Fact]
    public async Task A_database_that_refuses_is_one_sentence_and_an_exit_code()
    {
        var wrong = new Npgsql.NpgsqlConnectionStringBuilder(RunningService.Postgres) { Database = "no-such-database" };
        var (code, output, errors) = await Serve(wrong.ConnectionString);
        Assert.Equal((1, ""), (code, output));
        Assert.Matches(@"^PostgreSQL at 127\.0\.0\.1:\d+ refuses the connection: .*no-such-database.*\n$", errors);
    }

    [Fact]
    public async Task A_key_that_others_can_read_is_one_sentence_and_an_exit_code()
    {
        var (code, output, errors) = await Serve(RunningService.Postgres, key =>
        {
            File.WriteAllText(key, "AAAA");
            File.SetUnixFileMode(key, UnixFileMode.UserRead | UnixFileMode.OtherRead);
        });
        Assert.Equal((1, ""), (code, output));
        Assert.Matches("^The signing key cannot be used: .*chmod 600.*\n$", errors);
    }

    /// <summary>Each line of the log has the time at which it was written.</summary>
    [Fact]
    public async Task Log_lines_have_a_time_and_requests_a_trace()
    {
        await using var process = new Solving.ServiceProcess();
        await process.Start();
        Assert.Equal(404, (await process.As("ada", Role.HeadOffice).Get("/stores/nowhere")).Status);
        await process.Stop();
        var lines = process.Output.Select(line => JsonDocument.Parse(line).RootElement).ToList();
        Assert.NotEmpty(lines);
        Assert.All(lines, line => Assert.True(DateTimeOffset.TryParse(line.GetProperty("Timestamp").GetString(), out _)));
        var request = lines.Single(line =>
            line.GetProperty("Message").GetString()!.StartsWith("GET /stores", StringComparison.Ordinal));
        Assert.Matches(".+:.+", request.GetProperty("State").GetProperty("Trace").GetString());
    }

    private static async Task<(int Code, string Output, string Errors)> Serve(string postgres, Action<string>? prepareKey = null)
    {
        var folder = Directory.CreateTempSubdirectory("setweek-start-");
        try
        {
            var start = new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "SetWeek.Cli.dll"), "serve"])
            {
                RedirectStandardOutput = true, RedirectStandardError = true,
            };
            var key = Path.Combine(folder.FullName, "key");
            prepareKey?.Invoke(key);
            start.Environment[Settings.PostgresVariable] = postgres;
            start.Environment[Settings.UrlsVariable] = "http://127.0.0.1:0";
            start.Environment[Settings.KeyFileVariable] = key;
            using var process = Process.Start(start)!;
            var (output, errors) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
            await process.WaitForExitAsync(new CancellationTokenSource(TimeSpan.FromMinutes(1)).Token);
            return (process.ExitCode, await output, await errors);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
