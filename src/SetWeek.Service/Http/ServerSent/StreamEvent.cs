using System.Text;

namespace SetWeek.Service.Http.ServerSent;

/// <summary>
/// A server-sent event as it is written (HTML Living Standard, section 9.2). It is encoded once, for all that receive it.
/// </summary>
public sealed record StreamEvent(ReadOnlyMemory<byte> Frame)
{
    /// <param name="id">What the receiver sends as Last-Event-ID to go on after this event.</param>
    /// <param name="data">JSON in one line.</param>
    public static StreamEvent Of(string id, ReadOnlySpan<byte> data) =>
        new((byte[])[.. Encoding.UTF8.GetBytes($"id: {id}\ndata: "), .. data, .. "\n\n"u8]);

    /// <summary>An event that has a name and no id: its stream cannot be resumed.</summary>
    /// <param name="data">JSON in one line.</param>
    public static StreamEvent Named(string name, ReadOnlySpan<byte> data) =>
        new((byte[])[.. Encoding.UTF8.GetBytes($"event: {name}\ndata: "), .. data, .. "\n\n"u8]);
}
