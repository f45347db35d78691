using System.Diagnostics;

namespace SetWeek.Service.Tests.Printing;

/// <summary>Reads PDF files with the programs of poppler, which share nothing with the writer.</summary>
public static class Poppler
{
    /// <summary>Why a test is skipped without it.</summary>
    public const string Missing = "pdftotext and its like are not on the PATH, so no printed sheet was read back: "
        + "apt-get install poppler-utils.";

    public static bool IsThere { get; } = new[] { "pdftotext", "pdfinfo", "pdffonts", "pdftoppm" }.All(program =>
        (Environment.GetEnvironmentVariable("PATH") ?? "").Split(':')
            .Any(folder => folder.Length > 0 && File.Exists(Path.Combine(folder, program))));

    public static async Task<string> Text(byte[] file, params string[] options) =>
        System.Text.Encoding.UTF8.GetString(await Run("pdftotext", file, [.. options, "-enc", "UTF-8"], "-"));

    public static async Task<string> Info(byte[] file) => System.Text.Encoding.UTF8.GetString(await Run("pdfinfo", file, []));

    /// <summary>A row for each font: name, type, encoding, embedded, subset, with Unicode, object.</summary>
    public static async Task<IReadOnlyList<string>> Fonts(byte[] file) =>
        [.. System.Text.Encoding.UTF8.GetString(await Run("pdffonts", file, [])).Split('\n').Skip(2).Where(line => line != "")];

    /// <summary>The first page as grey pixels, 50 to the inch.</summary>
    public static async Task<(int Width, int Height, byte[] Pixels)> Picture(byte[] file)
    {
        var picture = await Run("pdftoppm", file, ["-gray", "-r", "50", "-f", "1", "-l", "1", "-singlefile"]);
        // PGM: P5, width and height, the largest value, then the pixels.
        var head = System.Text.Encoding.ASCII.GetString(picture, 0, 40).Split(['\n', ' '], 5);
        var (width, height) = (int.Parse(head[1], null), int.Parse(head[2], null));
        return (width, height, picture[^(width * height)..]);
    }

    private static async Task<byte[]> Run(string program, byte[] file, string[] options, params string[] after)
    {
        var path = Path.GetTempFileName();
        try
        {
            await File.WriteAllBytesAsync(path, file);
            using var process = Process.Start(new ProcessStartInfo(program, [.. options, path, .. after])
            {
                RedirectStandardOutput = true, RedirectStandardError = true,
            })!;
            using var output = new MemoryStream();
            var errors = process.StandardError.ReadToEndAsync();
            await process.StandardOutput.BaseStream.CopyToAsync(output);
            await process.WaitForExitAsync(new CancellationTokenSource(TimeSpan.FromMinutes(1)).Token);
            Assert.True(process.ExitCode == 0 && await errors == "", $"{program}: {await errors}");
            return output.ToArray();
        }
        finally
        {
            File.Delete(path);
        }
    }
}

/// <summary>A test that needs the programs of poppler on the PATH. It is skipped without them.</summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class PopplerFactAttribute : FactAttribute
{
    public PopplerFactAttribute()
    {
        if (!Poppler.IsThere) Skip = Poppler.Missing;
    }
}

[AttributeUsage(AttributeTargets.Method)]
internal sealed class PopplerTheoryAttribute : TheoryAttribute
{
    public PopplerTheoryAttribute()
    {
        if (!Poppler.IsThere) Skip = Poppler.Missing;
    }
}
