using SetWeek.Model.Json;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Openings;

/// <summary>What all reports on a night have in common.</summary>
internal static class NightReport
{
    public static Reply Recorded => new(204, "The report is recorded; a repeated report changes nothing");

    /// <summary>The night is part of the address or, in a phone's queue, a field.</summary>
    public static string NightOf(JsonFields json, Request request) => request.Has("night") ? request["night"] : json.Id("night");
}
