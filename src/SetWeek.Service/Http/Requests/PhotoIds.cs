using SetWeek.Model.Json;

namespace SetWeek.Service.Http.Requests;

/// <summary>The photographs that a report names. They may still be on their way, so that the ids need not be known.</summary>
public static class PhotoIds
{
    private const int Most = 10;

    /// <returns>Null if the body names none.</returns>
    public static IReadOnlyList<string>? Read(JsonFields json) =>
        json.Optional("photos")?.List(photo => photo.Id(), Most) is { Count: > 0 } photos ? photos : null;
}
