using Marten;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Directions;

public sealed class ReviseDirection : ICommand
{
    private sealed record Body(Direction Direction, string? Note);

    /// <summary>The fields of a direction, and the note.</summary>
    private sealed record Shape(
        string Id, string Name, IReadOnlyList<DirectedZone>? Zones, IReadOnlyList<DirectedDisplay> Displays,
        IReadOnlyList<WeekTask> Tasks, IReadOnlyList<DirectedKit>? Kits, IReadOnlyList<TechniqueCard>? Cards, string? Note);

    public static Operation Operation =>
        new("PUT", "/directions/{id}", "reviseDirection", "Replaces a direction with a revised version")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
        Body = new(typeof(Shape), DirectionBody.Example.TrimEnd().TrimEnd('}') + """, "note": "The canopy may stand."}""")
        {
            MayOmit = DirectionBody.MayOmit, IsDocument = true,
        },
        IfMatch = true,
        Replies = [new(204, "The direction is revised; open weeks keep the version that they were opened with")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        var read = request.Read(json => new Body(DirectionBody.Read(json), json.OptionalText("note", longest: 2000)));
        if (read.TryPickT1(out var faults, out var body)) return Refused.For(faults);
        if (DirectionFaults.Of(body.Direction) is { Count: > 0 } invalid) return Refused.For(new FaultReport(invalid), 422);
        var stream = await Streams.Direction(session, request.Id, request.Cancelled);
        if (stream.State is null) return Refused.Missing("direction", request.Id);
        if (stream.Version != request.Version) return Refused.Stale(stream.Version);
        return stream.State.Revise(body.Direction).Match(
            revised =>
            {
                var version = stream.Append(session, revised);
                if (body.Note is { } note) session.Store(new Note(Note.IdOf(stream.Id, version), note));
                return Answer.NoContent.WithVersion(version);
            },
            Refused.For);
    }
}
