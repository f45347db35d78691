namespace SetWeek.Domain.Weeks;

/// <summary>
/// Free text about an event. It is stored outside the event, so that it can be erased. Its id combines the stream and version
/// of the event.
/// </summary>
public sealed record Note(string Id, string Text)
{
    public static string IdOf(string stream, long version) => $"{stream}@{version}";
}
