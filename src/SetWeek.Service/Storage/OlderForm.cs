using System.Text.Json;

namespace SetWeek.Service.Storage;

/// <summary>A form in which an event was stored under another name, and how it is read as the event of today.</summary>
/// <param name="Event">The type of today.</param>
/// <param name="Read">Makes the event from the stored JSON.</param>
public sealed record OlderForm(Type Event, Func<JsonDocument, object> Read);
