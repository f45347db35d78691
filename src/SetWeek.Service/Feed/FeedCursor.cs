using System.Buffers.Text;
using System.Globalization;
using System.Text;

namespace SetWeek.Service.Feed;

/// <summary>Opaque to readers: what it holds may change with the version in front.</summary>
public static class FeedCursor
{
    private const string Version = "1.";

    public static string Write(long place) =>
        Base64Url.EncodeToString(Encoding.ASCII.GetBytes(Version + place.ToString(CultureInfo.InvariantCulture)));

    /// <summary>Null where it is none of ours.</summary>
    public static long? Read(string cursor)
    {
        if (cursor.Length > 40 || !Base64Url.IsValid(cursor)) return null;
        var text = Encoding.ASCII.GetString(Base64Url.DecodeFromChars(cursor));
        return text.StartsWith(Version, StringComparison.Ordinal)
            && long.TryParse(text.AsSpan(Version.Length), NumberStyles.None, CultureInfo.InvariantCulture, out var place)
                ? place : null;
    }
}
