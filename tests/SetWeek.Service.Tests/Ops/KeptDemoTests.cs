using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;

namespace SetWeek.Service.Tests.Ops;

/// <summary>`ops/demo --stop` ends what `--keep` left running and leaves nothing. A sleeping process stands for the service.</summary>
public sealed class KeptDemoTests : IDisposable
{
    private readonly string name = $"demo-{RandomNumberGenerator.GetInt32(1_000_000, int.MaxValue)}";
    private readonly DirectoryInfo scratch = Directory.CreateTempSubdirectory("setweek-demo.");

    private string Folder => Repository.PathOf(".setweek", name);

    public void Dispose()
    {
        if (Directory.Exists(Folder)) Directory.Delete(Folder, recursive: true);
        if (scratch.Exists) scratch.Delete(recursive: true);
    }

    [Fact]
    public async Task A_kept_demo_is_stopped_and_leaves_nothing()
    {
        using var service = Sleep("SetWeek.Cli.dll serve");
        Keep(service);
        Assert.Equal($"Stopped and removed {name}.\n", await Stop());
        Assert.True(service.WaitForExit(TimeSpan.FromSeconds(5)));
        Assert.False(Directory.Exists(Folder) || Directory.Exists(scratch.FullName));
        Assert.Equal("No kept demo runs here.\n", await Stop());
    }

    /// <summary>The id may belong to another program by now.</summary>
    [Fact]
    public async Task A_process_that_is_no_service_is_left_alone()
    {
        using var other = Sleep("another program");
        Keep(other);
        await Stop();
        Assert.False(other.HasExited);
        Assert.False(Directory.Exists(Folder));
        other.Kill();
    }

    private void Keep(Process service)
    {
        Directory.CreateDirectory(Folder);
        File.WriteAllText(Path.Combine(Folder, "kept"),
            string.Create(CultureInfo.InvariantCulture, $"{service.Id} none {scratch.FullName}\n"));
    }

    private static Process Sleep(string commandLine) =>
        Process.Start(new ProcessStartInfo("bash", ["-c", $"exec -a '{commandLine}' sleep 120"]))!;

    private async Task<string> Stop()
    {
        using var process = Process.Start(new ProcessStartInfo(Repository.PathOf("ops", "demo"), ["--stop", name])
            { RedirectStandardOutput = true })!;
        var output = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.Equal(0, process.ExitCode);
        return output;
    }
}
