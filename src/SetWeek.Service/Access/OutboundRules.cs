using System.Net;

namespace SetWeek.Service.Access;

/// <summary>
/// Which addresses the service may call on somebody's behalf. Only public ones, so that nobody reaches through it what lies
/// inside its own network.
/// </summary>
/// <param name="AllowLoopback">Whether this machine may be called, and without TLS: for tests and demonstrations.</param>
public sealed record OutboundRules(bool AllowLoopback)
{
    /// <summary>
    /// Networks that are not reachable globally, by the special-purpose address registries of IANA (RFC 6890 and its updates),
    /// and multicast.
    /// </summary>
    private static readonly IReadOnlyList<IPNetwork> NotPublic =
    [
        .. new[]
        {
            "0.0.0.0/8", "10.0.0.0/8", "100.64.0.0/10", "127.0.0.0/8", "169.254.0.0/16", "172.16.0.0/12", "192.0.0.0/24",
            "192.0.2.0/24", "192.88.99.0/24", "192.168.0.0/16", "198.18.0.0/15", "198.51.100.0/24", "203.0.113.0/24",
            "224.0.0.0/4", "240.0.0.0/4",
            // Within 2000::/3, the only unicast addresses in use. 2002::/16 contains IPv4 addresses.
            "2001::/23", "2001:db8::/32", "2002::/16", "3fff::/20",
        }.Select(IPNetwork.Parse),
    ];

    private static readonly IPNetwork GlobalUnicast = IPNetwork.Parse("2000::/3");

    public bool Allows(IPAddress address) => IsPublic(address) || AllowLoopback && IPAddress.IsLoopback(Plain(address));

    public static bool IsPublic(IPAddress address)
    {
        var plain = Plain(address);
        return !NotPublic.Any(network => network.BaseAddress.AddressFamily == plain.AddressFamily && network.Contains(plain))
            && (plain.AddressFamily == System.Net.Sockets.AddressFamily.InterNetwork || GlobalUnicast.Contains(plain));
    }

    /// <summary>Why a URL cannot be called, as far as it can be told without resolving its host; null if it can.</summary>
    public string? FaultOf(string url)
    {
        if (!Uri.TryCreate(url, UriKind.Absolute, out var target) || target.Host == "")
            return "This is not a URL; give one with https://.";
        var address = IPAddress.TryParse(target.DnsSafeHost, out var literal) ? literal : null;
        var isLoopback = address is null ? target.IsLoopback : IPAddress.IsLoopback(Plain(address));
        if (target.Scheme != Uri.UriSchemeHttps && !(target.Scheme == Uri.UriSchemeHttp && AllowLoopback && isLoopback))
            return "The URL must begin with https://.";
        if (target.UserInfo != "") return "Leave the name and password out of the URL; deliveries are signed.";
        if (target.Fragment != "") return "Leave out the part after #.";
        return address is not null && !Allows(address) || isLoopback && !AllowLoopback
            ? "This address is not public; give one that the internet can reach." : null;
    }

    /// <summary>An IPv4 address that is written as an IPv6 one, as itself.</summary>
    private static IPAddress Plain(IPAddress address) => address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address;
}
