namespace SetWeek.Service.Access.Sessions;

/// <summary>Under which addresses browsers reach the service.</summary>
/// <param name="Urls">The addresses that the service listens on, separated by semicolons.</param>
/// <param name="PublicUrl">The address that browsers use where a proxy is in front; null where there is none.</param>
public sealed record BrowserAddress(string Urls, string? PublicUrl)
{
    /// <summary>Whether browsers of this machine alone reach the service, and no proxy is in front.</summary>
    public bool IsLoopback => All.All(IsOnLoopback);

    /// <summary>
    /// Whether cookies are for TLS alone. Plain HTTP is for loopback: a proxy with TLS stands before any other address.
    /// </summary>
    public bool IsSecure => PublicUrl is { } address ? !IsPlain(address) : !All.All(url => IsOnLoopback(url) && IsPlain(url));

    /// <summary>The address to open in a browser, without a slash at its end.</summary>
    public string First => All.First().TrimEnd('/');

    private IEnumerable<string> All =>
        [.. PublicUrl is null ? (string[])[] : [PublicUrl], .. Urls.Split(';', StringSplitOptions.RemoveEmptyEntries)];

    /// <summary>What is wrong with a public address; null if nothing is.</summary>
    public static string? FaultOf(string publicUrl) =>
        Uri.TryCreate(publicUrl, UriKind.Absolute, out var url)
            && (url.Scheme == Uri.UriSchemeHttps || url.Scheme == Uri.UriSchemeHttp && url.IsLoopback) ? null
            : "needs an address with https://, for example https://setweek.example.";

    private static bool IsOnLoopback(string url) => Uri.TryCreate(url, UriKind.Absolute, out var known) && known.IsLoopback;

    private static bool IsPlain(string url) => url.StartsWith("http:", StringComparison.OrdinalIgnoreCase);
}
