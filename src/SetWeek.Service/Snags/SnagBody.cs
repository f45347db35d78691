using NodaTime;
using SetWeek.Domain.Snags;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Model.Json;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Snags;

/// <summary>What the reports on snags have in common.</summary>
internal static class SnagBody
{
    public static Reply Recorded => new(204, "The report is recorded; a repeated report changes nothing");

    /// <summary>The body of a report on a snag that was raised before.</summary>
    /// <param name="Note">How it was put right, or why.</param>
    /// <param name="Corrects">The report that this one replaces.</param>
    public sealed record Act(string Id, OffsetDateTime At, string? Note, IReadOnlyList<string>? Photos, string? Corrects)
    {
        public static Act Read(JsonFields json) => new(json.Id("id"), json.Time("at"),
            json.OptionalText("note", SnagNotes.Longest), PhotoIds.Read(json), json.OptionalId("corrects"));
    }

    /// <summary>The owner of a body with the members owner, person and trade; null if it has no owner.</summary>
    public static SnagOwner? ReadOwner(JsonFields json)
    {
        var kind = json.Optional("owner")?.Choice<SnagOwnerKind>();
        var (person, trade) = (json.OptionalId("person"), json.OptionalWord("trade"));
        if ((kind == SnagOwnerKind.Person) != json.Has("person"))
            json.AddFault("person", "Give person where the owner is a person, and only there.");
        if ((kind == SnagOwnerKind.Trade) != json.Has("trade"))
            json.AddFault("trade", "Give trade where the owner is a trade, and only there.");
        return kind is { } owner ? new SnagOwner(owner, person, trade) : null;
    }

    /// <summary>Reads a report on a snag that was raised before.</summary>
    /// <param name="event">The event, from the body, the id of the report that raised the snag, and the time.</param>
    public static FloorReport Report(
        JsonFields json, Request request, Func<Act, string, ReportTime, ISnagReport> @event)
    {
        // The snag is part of the address or, in a phone's queue, a field.
        var snag = request.Has("snag") ? request["snag"] : json.Id("snag");
        var body = Act.Read(json);
        var time = request.TimeOf(body.At);
        return new FloorReport(time.At.ToInstant(), week => week.Act(snag, raised => @event(body, raised, time)))
        {
            Texts = SnagNotes.Of(request.Id, body.Id, body.Note),
        };
    }
}
