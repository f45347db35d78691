using System.Globalization;
using System.Security.Cryptography;
using StandardWebhooks;

namespace SetWeek.Service.Webhooks;

/// <summary>The secrets of a webhook and the headers that they sign (Standard Webhooks 1.0.0, symmetric scheme).</summary>
public static class WebhookSecret
{
    private const int Bytes = 32; // the specification asks for 24 to 64

    public static string New() => $"whsec_{Convert.ToBase64String(RandomNumberGenerator.GetBytes(Bytes))}";

    /// <summary>The headers of a delivery. While a secret is being replaced there is a signature with each.</summary>
    public static IEnumerable<(string Name, string Value)> Headers(
        string id, DateTimeOffset now, string body, IEnumerable<string> secrets) =>
    [
        ("webhook-id", id),
        ("webhook-timestamp", now.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture)),
        ("webhook-signature", string.Join(' ', secrets.Select(secret => new StandardWebhook(secret).Sign(id, now, body)))),
    ];
}
