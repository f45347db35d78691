using NodaTime;
using OneOf;
using SetWeek.Domain.Kits;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Kits;

public sealed class TakeKitIn : IReport
{
    private sealed record Body(string Id, OffsetDateTime At, IReadOnlyList<CountedLine>? Lines = null, bool Complete = false,
        string? Corrects = null);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/kits/{kit}/arrived", "takeKitIn",
            "Reports that a kit has arrived, and its count. A lead may confirm the lines that are not counted as complete")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Body = new(typeof(Body), """
            {"id": "phone-3.17", "at": "2027-03-08T11:40:00+00:00", "lines": [{"item": "canopy", "received": 1, "damaged": 0}]}
            """) { MayOmit = ["lines/damaged"] },
        Replies =
        [
            new(200, "The report is recorded, and tasks wait for the rest of the kit: it is not counted, or short",
                typeof(KitCounts.Missing)),
            new(204, "The report is recorded, and no task waits for the kit; a repeated report changes nothing"),
        ],
    };

    /// <summary>The kit is part of the address or, in a phone's queue, a field.</summary>
    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var kit = request.Has("kit") ? request["kit"] : json.Id("kit");
        var body = ReadBody(json);
        if (body.Complete && request.Caller.Role != Role.Lead)
            return Refused.With(403, "Only a lead confirms a kit as complete. Count its lines instead.", "other-role");
        var time = request.TimeOf(body.At);
        return new FloorReport(time.At.ToInstant(),
            week => week.KitIsIn(body.Id, kit, time, body.Lines ?? [], body.Complete, body.Corrects))
        {
            Reply = week => week.MissingOf(kit) is { } missing ? Answer.Ok(missing) : Answer.NoContent,
        };
    }

    private static Body ReadBody(JsonFields json)
    {
        var body = new Body(json.Id("id"), json.Time("at"),
            json.OptionalList("lines", line => line.Object(ReadLine), WeekLimits.KitLines), json.Flag("complete"),
            json.OptionalId("corrects"));
        foreach (var item in body.Lines!.GroupBy(line => line.Item).Where(item => item.Key.Length > 0 && item.Count() > 1))
            json.AddFault("lines", $"{item.Key} is counted {item.Count()} times; give one count.");
        return body;
    }

    private static CountedLine ReadLine(JsonFields json)
    {
        var line = new CountedLine(json.Word("item"), json.Int("received", 0, WeekLimits.PieceCount),
            json.Int("damaged", 0, WeekLimits.PieceCount, otherwise: 0));
        if (line.Damaged > line.Received)
            json.AddFault("damaged", "More pieces are damaged than received. The received pieces include the damaged ones.");
        return line;
    }
}
