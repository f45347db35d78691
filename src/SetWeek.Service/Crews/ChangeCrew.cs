using Marten;
using SetWeek.Domain.Crews;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Crews;

public sealed class ChangeCrew : ICommand
{
    /// <summary>The fields of a crew member, each of which may be left out.</summary>
    private sealed record Shape(
        string? Name, IReadOnlyDictionary<string, int>? Skills, bool? Keyholder, bool? Under18, int? RatePerHour,
        IReadOnlyList<Availability>? Available, IReadOnlyList<Commitment>? Commitments, int? MaxMinutesPerNight, int? MaxNights,
        int? MinutesAlready);

    public static Operation Operation =>
        new("PUT", "/weeks/{id}/crew/{person}", "changeCrew", "Changes the given fields of a crew member; other fields stay")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(Shape), """{"available": [{"night": "night-1"}], "ratePerHour": 1350}"""),
        IfMatch = true,
        Replies = [new(204, "The crew member is changed")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(Read).TryPickT1(out var faults, out var change)) return Refused.For(faults);
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (!stream.IsCurrent(request.Version)) return Refused.Stale(stream.Version);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        if (crew.Find(request["person"]) is not { } before) return Refused.Missing("person", request["person"]);
        var after = change(before);
        return CrewBody.Append(session, stream, crew, after, week.ChangeCrew(before, after));
    }

    /// <summary>Reads the body as a function that replaces the given fields of a crew member.</summary>
    private static Func<CrewMember, CrewMember> Read(JsonFields json)
    {
        var name = json.OptionalText("name");
        var skills = json.Optional("skills")?.Map(level => level.Int(1, 3), WeekLimits.Skills);
        bool? keyholder = json.Has("keyholder") ? json.Flag("keyholder") : null;
        bool? under18 = json.Has("under18") ? json.Flag("under18") : null;
        var rate = json.OptionalInt("ratePerHour", 0, WeekLimits.Rate);
        var available = json.Optional("available")?.List(WeekReader.Availability, WeekLimits.Available);
        var commitments = json.Optional("commitments")?.List(WeekReader.Commitment, WeekLimits.Commitments);
        var minutes = json.OptionalInt("maxMinutesPerNight", 0, WeekLimits.Minutes);
        var nights = json.OptionalInt("maxNights", 0, WeekLimits.Nights);
        var already = json.OptionalInt("minutesAlready", 0, WeekLimits.Minutes);
        return member => member with
        {
            Name = name ?? member.Name,
            Skills = skills ?? member.Skills,
            Keyholder = keyholder ?? member.Keyholder,
            Under18 = under18 ?? member.Under18,
            RatePerHour = rate ?? member.RatePerHour,
            Available = available ?? member.Available,
            Commitments = commitments ?? member.Commitments,
            MaxMinutesPerNight = minutes ?? member.MaxMinutesPerNight,
            MaxNights = nights ?? member.MaxNights,
            MinutesAlready = already ?? member.MinutesAlready,
        };
    }
}
