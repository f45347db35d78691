using NodaTime;
using OneOf;
using SetWeek.Domain.WalkThroughs;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Closings;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Openings;
using SetWeek.Service.Snags;

namespace SetWeek.Service.WalkThroughs;

public sealed class RecordLook : IReport
{
    private sealed record Body(
        string Id, string Zone, OffsetDateTime At, IReadOnlyList<CheckAnswers.Given> Answers, IReadOnlyList<string>? With = null,
        IReadOnlyList<string>? Photos = null, string? Corrects = null);

    public static Operation Operation => new("POST", "/weeks/{id}/walk-through", "lookAtArea",
        "Records that somebody looked at an area in the walk-through, with the answers to some or all of its checks. A check "
        + "that fails raises a snag")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Photos = PhotoUse.InForm,
        Body = new(typeof(Body), """
            {"id": "phone-3.70", "zone": "window", "at": "2027-03-12T21:22:00+00:00", "with": ["noor"],
             "photos": ["phone-3.p8"],
             "answers": [{"check": "exits", "answer": "good"}, {"check": "widths", "answer": "good", "millimetres": 1040},
                         {"check": "light", "answer": "notGood", "why": "A dark hole left of the door."}]}
            """),
        Replies = [NightReport.Recorded],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var body = new Body(json.Id("id"), json.Id("zone"), json.Time("at"), CheckAnswers.Read(json, "answers"),
            json.OptionalList("with", person => person.Id(), WeekLimits.People), PhotoIds.Read(json),
            json.OptionalId("corrects"));
        var time = request.TimeOf(body.At);
        var look = new AreaLookedAt(body.Id, body.Zone, time.At, request.Caller.Person,
            [.. body.With!.Where(person => person != request.Caller.Person)], [.. body.Answers.Select(answer => answer.Answered)],
            time.Clock, body.Corrects, body.Photos);
        return new FloorReport(time.At.ToInstant(), week => week.LookAt(look))
        {
            // The words of a failed check are also those of the snag that it raises.
            Texts = [.. CheckAnswers.ReasonsOf(request.Id, body.Id, body.Answers),
                .. body.Answers.Index().Where(given => given.Item.Answer == CheckResult.NotGood).SelectMany(given =>
                    SnagNotes.Of(request.Id, WalkSnags.IdOf(body.Id, given.Index), given.Item.Why))],
        };
    }
}
