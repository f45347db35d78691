using System.Security.Cryptography;
using System.Text;

namespace SetWeek.Service.Access;

/// <summary>
/// The secret in the address of a calendar: 32 random bytes. Whoever knows the address reads the calendar, since calendar
/// programs send no token. Only its hash is stored. A hash without salt is enough for a secret that cannot be guessed.
/// </summary>
public static class CalendarSecret
{
    public const string Folder = "/calendars";

    private const string Ending = ".ics";

    public static string New() => RandomNumberGenerator.GetHexString(64, lowercase: true);

    public static byte[] HashOf(string secret) => SHA256.HashData(Encoding.UTF8.GetBytes(secret));

    public static string AddressOf(string secret) => $"{Folder}/{secret}{Ending}";

    /// <returns>Null if the last part of the address has another form.</returns>
    public static string? In(string file) => file.EndsWith(Ending, StringComparison.Ordinal) ? file[..^Ending.Length] : null;

    /// <summary>A path as the log may show it: without the secret.</summary>
    public static string? Logged(PathString path) => path.StartsWithSegments(Folder) ? $"{Folder}/…" : path.Value;
}
