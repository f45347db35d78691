namespace SetWeek.Domain.Weeks;

/// <summary>
/// What somebody wrote beside an event: erasable, so never in it. The id is that of the event's stream and its version.
/// </summary>
public sealed record Note(string Id, string Text)
{
    public static string IdOf(string stream, long version) => $"{stream}@{version}";
}
