using NodaTime;
using OneOf;
using SetWeek.Domain.Kits;
using SetWeek.Domain.Weeks;
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
    private sealed record Body(string Id, OffsetDateTime At, IReadOnlyList<Line>? Lines = null, bool Complete = false,
        string? Corrects = null);

    /// <param name="Received">The pieces that came, damaged ones included.</param>
    /// <param name="Answer">How the line is; a number that it asks for must be given.</param>
    private sealed record Line(string Item, int? Received = null, int? Damaged = null, LineAnswer? Answer = null);

    /// <summary>The three answers of whoever counts a line.</summary>
    private enum LineAnswer { AsExpected, Fewer, Damaged }

    public static Operation Operation =>
        new("POST", "/weeks/{id}/kits/{kit}/arrived", "takeKitIn",
            "Reports that a kit has arrived, and its count. A lead may confirm the lines that are not counted as complete")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Body = new(typeof(Body), """
            {"id": "phone-3.17", "at": "2027-03-08T11:40:00+00:00", "lines": [{"item": "canopy", "received": 1, "damaged": 0}]}
            """),
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
            week => week.KitIsCounted(body.Id, kit, time,
                [.. (body.Lines ?? []).Select(line => new CountAnswer(line.Item, line.Received, line.Damaged ?? 0))],
                body.Complete, body.Corrects, request.Caller.Person))
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

    private static Line ReadLine(JsonFields json)
    {
        var line = new Line(json.Word("item"), json.OptionalInt("received", 0, WeekLimits.PieceCount),
            json.OptionalInt("damaged", 0, WeekLimits.PieceCount), json.Optional("answer")?.Choice<LineAnswer>());
        switch (line.Answer)
        {
            case LineAnswer.AsExpected when line is not { Received: null, Damaged: null }:
                json.AddFault("answer", "As expected, and a number: choose what is so, and leave the numbers out if all came.");
                break;
            case null or LineAnswer.Fewer when !json.Has("received"):
                json.AddFault("received", "Say how many pieces came.");
                break;
            case LineAnswer.Damaged when line.Damaged is null or 0:
                json.AddFault("damaged", "Say how many pieces are damaged.");
                break;
        }
        if (line.Damaged > line.Received)
            json.AddFault("damaged", "More pieces are damaged than received. The received pieces include the damaged ones.");
        return line;
    }
}
