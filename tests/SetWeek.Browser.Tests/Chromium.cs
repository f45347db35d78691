using Microsoft.Playwright;

namespace SetWeek.Browser.Tests;

/// <summary>The machine's Chromium. Playwright brings a driver alone; no browser is downloaded.</summary>
internal static class Chromium
{
    /// <summary>`ops/needs browser` looks for the same names.</summary>
    private static readonly string[] Names = ["chromium", "chromium-browser"];

    /// <summary>The path of the program; null if it is not on the PATH.</summary>
    public static string? Program { get; } = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(':')
        .Where(folder => folder.Length > 0).SelectMany(_ => Names, Path.Combine).FirstOrDefault(File.Exists);

    /// <summary>Root has no sandbox. Nothing but the pages of the tests is asked for.</summary>
    public static string[] Arguments { get; } =
    [
        "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
        "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage",
    ];

    public static BrowserTypeLaunchOptions Options => new()
    {
        ExecutablePath = Program, Args = Arguments, Timeout = Visit.Patience,
    };
}

/// <summary>A test that opens pages in Chromium. It is skipped without it.</summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class BrowserFactAttribute : FactAttribute
{
    public const string Absent = "No page was opened in a browser: Chromium is not installed (ops/needs browser).";

    /// <summary>In milliseconds. A browser that no longer answers fails its test, and does not hold up the others.</summary>
    public const int Longest = 150_000;

    public BrowserFactAttribute() => (Skip, Timeout) = (Chromium.Program is null ? Absent : null, Longest);
}

/// <summary>The same with data.</summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class BrowserTheoryAttribute : TheoryAttribute
{
    public BrowserTheoryAttribute() =>
        (Skip, Timeout) = (Chromium.Program is null ? BrowserFactAttribute.Absent : null, BrowserFactAttribute.Longest);
}
