using Marten;
using OneOf;
using SetWeek.Domain;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Stores;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Weeks;

public sealed class OpenWeek : ICommand
{
    public sealed record Opened(string Id, IReadOnlyList<ScopingDecision> Scoping);

    public static Operation Operation => new("POST", "/weeks", "openWeek", "Opens a set week: scopes a direction to a store")
    {
        MayUse = new Permission(AccessScope.StoreInBody, Role.Lead, Role.HeadOffice),
        Body = new(typeof(WeekBody), WeekBody.Example),
        StoreField = "store",
        Replies = [new(201, "The week is open; a sentence explains each scoping decision", typeof(Opened))],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(WeekBody.Read).TryPickT1(out var faults, out var body)) return Refused.For(faults);
        if (!request.Caller.MayAccess(body.Store)) return Refused.OtherStore(body.Store);
        var direction = await Streams.Direction(session, body.Direction, request.Cancelled);
        var store = await Streams.Store(session, body.Store, request.Cancelled);
        if (Missing(body, direction.State, store.State) is { Count: > 0 } missing)
            return Refused.For(new FaultReport(missing), 422);

        var scoped = Scoping.Of(direction.State!, store.State!);
        if ((await TakenOver(session, body, request.Cancelled)).TryPickT1(out faults, out var taken))
            return Refused.For(faults, 422);
        if (BuildWeek(body, store.State!, scoped, taken).TryPickT1(out faults, out var week)) return Refused.For(faults, 422);
        var stream = await Streams.Week(session, body.Id, request.Cancelled);
        if (stream.State is not null) return Refused.For(new Refusal("week-open", $"The week \"{body.Id}\" is open already."));

        session.Store(new WeekPlace(body.Id, body.Store));
        session.Store(new CrewFile(body.Id, week.Crew));
        var opened = new WeekOpened(body.Direction, direction.Version, week with { Crew = [] },
            [.. week.Crew.Select(member => member.Id)], scoped.Decisions, scoped.MustBeShown);
        return Answer.Created($"/weeks/{body.Id}", new Opened(body.Id, scoped.Decisions))
            .WithVersion(stream.Append(session, opened));
    }

    private static List<Fault> Missing(WeekBody body, Direction? direction, StoreProfile? store) =>
    [
        .. direction is not null ? (Fault[])[]
            : [new Fault("/direction", $"There is no direction \"{body.Direction}\"; issue it first.")],
        .. store is null ? [new Fault("/store", $"There is no store \"{body.Store}\"; open it first.")] : (Fault[])[],
        .. direction is null ? [] : body.Kits.Index().Where(kit => direction.Kits.All(known => known.Id != kit.Item.Id))
            .Select(kit => new Fault($"/kits/{kit.Index}/id", $"The direction ships no kit \"{kit.Item.Id}\".")),
        .. body.Kits.Index().Where(kit => body.Kits.Take(kit.Index).Any(earlier => earlier.Id == kit.Item.Id))
            .Select(kit => new Fault($"/kits/{kit.Index}/id", $"The kit \"{kit.Item.Id}\" is listed twice; keep one.")),
    ];

    /// <summary>The people whom the week takes over from an earlier one.</summary>
    private static async Task<OneOf<CrewMember[], FaultReport>> TakenOver(
        IQuerySession session, WeekBody body, CancellationToken cancelled)
    {
        if (body.CrewFrom is not { } from) return Array.Empty<CrewMember>();
        if ((await Streams.Week(session, from.Week, cancelled)).State is not { } earlier || earlier.Week.Store.Id != body.Store)
            return new FaultReport([new Fault("/crewFrom/week", $"This store has no week \"{from.Week}\".")]);
        var crew = await session.CrewOf(from.Week, cancelled);
        var unknown = from.People.Index().Where(person => crew.Find(person.Item) is null)
            .Select(person => new Fault($"/crewFrom/people/{person.Index}", $"That week has no person \"{person.Item}\"."))
            .ToList();
        return unknown.Count > 0 ? new FaultReport(unknown) : TakenCrew.Of(crew, from.People, body.Nights).ToArray();
    }

    /// <summary>
    /// Builds the week and validates it with the rules for week files. A crew that is sent whole must be able to do the work. One
    /// that is empty or taken over need not: people join later.
    /// </summary>
    private static OneOf<Week, FaultReport> BuildWeek(
        WeekBody body, StoreProfile store, ScopedDirection scoped, IReadOnlyList<CrewMember> taken) => WeekFile.Check(new Week
    {
        Id = body.Id,
        Currency = body.Currency,
        GridMinutes = body.GridMinutes,
        Launch = body.Launch,
        Store = new Store { Id = store.Id, TimeZone = store.TimeZone, Zones = store.Zones, Equipment = store.Equipment },
        Nights = body.Nights,
        Crew = [.. body.Crew, .. taken],
        Kits = [.. scoped.Kits.Select(kit => new Kit(kit.Id, kit.Name, body.Kits.FirstOrDefault(due => due.Id == kit.Id)?.Eta)
        {
            Lines = [.. kit.Lines.Select(line => new KitLine(line.Item, line.Expected))],
        })],
        Displays = scoped.Displays,
        Tasks = scoped.Tasks,
        Rules = body.Rules,
        Hold = body.Hold ?? new HoldTarget(),
        Pins = body.Pins,
        Goals = body.Goals,
        ReplanGoals = body.ReplanGoals,
    }, isCrewComplete: body is { Crew.Count: > 0, CrewFrom: null })
        .MapT1(faults => new FaultReport([.. faults.All.Select(AsSent)]));

    /// <summary>A fault in a part that is not in the request is reported at the direction or the store it came from.</summary>
    private static Fault AsSent(Fault fault) => fault.Pointer.Split('/') is [_, var part, ..] ? part switch
    {
        "displays" or "tasks" or "kits" =>
            new Fault("/direction", $"{fault.Detail} (At {fault.Pointer} of the resulting week.)"),
        "store" => new Fault("/store", $"{fault.Detail} (At {fault.Pointer} of the resulting week.)"),
        _ => fault,
    } : fault;
}
