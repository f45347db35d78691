using System.Buffers.Text;
using System.Globalization;
using System.Text;

namespace SetWeek.Service.Feed;

/// <summary>A cursor of the feed, opaque to clients. The version prefix allows its content to change.</summary>
public static class FeedCursor
{
    private const string Version = "1.";

    public static string Write(long place) =>
        Base64Url.EncodeToString(Encoding.ASCII.GetBytes(Version + place.ToString(CultureInfo.InvariantCulture)));

    /// <returns>The place in the feed; null if the text is not a cursor of this service.</returns>
    public static long? Read(string cursor)
    {
        if (cursor.Length > 40 || !Base64Url.IsValid(cursor)) return null;
        var text = Encoding.ASCII.GetString(Base64Url.DecodeFromChars(cursor));
        return text.StartsWith(Version, StringComparison.Ordinal)
            && long.TryParse(text.AsSpan(Version.Length), NumberStyles.None, CultureInfo.InvariantCulture, out var place)
                ? place : null;
    }
}
