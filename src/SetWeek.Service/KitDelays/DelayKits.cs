using System.Text.Json.Serialization;
using Marten;
using NodaTime;
using OneOf;
using SetWeek.Domain.Kits;
using SetWeek.Domain.Plans;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Solving;
using SetWeek.Service.Storage;

namespace SetWeek.Service.KitDelays;

public sealed class DelayKits : ICommand
{
    private const int MostWeeks = 5000, DefaultSeconds = 1, DefaultWorkers = 1;

    /// <param name="Kits">The delayed kits by week; or give a direction and one of its kits.</param>
    /// <param name="Stores">With a direction: only these stores; all of them unless given.</param>
    /// <param name="AutoPublish">Which re-plans are published without their lead; never unless given.</param>
    public sealed record Body(IReadOnlyList<WeekKit>? Kits, string? Direction, string? Kit, IReadOnlyList<string>? Stores,
        [property: JsonRequired] LocalDateTime? Eta, string? Why, double? Seconds, double? Effort, int? Workers, int? Seed,
        AutoPublish? AutoPublish);

    public sealed record WeekKit(string Week, string Kit);

    /// <param name="Weeks">The number of listed weeks. Those of a direction are found in the background.</param>
    public sealed record Begun(string Id, int? Weeks);

    private sealed record Asked(IReadOnlyList<WeekKit> Kits, string? Direction, string? Kit, IReadOnlyList<string> Stores,
        LocalDateTime? Eta, string? Why, PlanLimits Limits, AutoPublish AutoPublish);

    public static Operation Operation => new("POST", "/kit-delays", "delayKits",
        "Reports that kits of many weeks are delayed, and requests a re-plan of each week")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
        Body = new(typeof(Body), """
            {"direction": "first-rain", "kit": "canopy", "stores": ["harbour-street"], "eta": "2027-03-10T12:00",
             "why": "The lorry broke down.", "seconds": 1, "workers": 1, "seed": 0, "autoPublish": "noChangeToPublishedShifts"}
            """),
        Replies = [new(202, "The batch is stored and runs in the background; see Location for its report", typeof(Begun))],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(Read).TryPickT1(out var faults, out var asked)) return Refused.For(faults);
        var batch = new KitDelay
        {
            Id = request.PlanIds.Next(request.Now), By = request.Caller.Person, Asked = request.Now, Eta = asked.Eta,
            Why = asked.Why, Limits = asked.Limits, AutoPublish = asked.AutoPublish,
        };
        var begun = Answer.Accepted($"/kit-delays/{batch.Id}", new Begun(batch.Id, null));
        if (asked.Direction is { } direction)
        {
            if ((await Streams.Direction(session, direction, request.Cancelled)).State is null)
                return Refused.With(422, $"There is no direction \"{direction}\".", "unknown-direction");
            // Weeks are found in the background: to read those of a whole chain takes long.
            session.Store(batch with
            {
                Direction = direction, Kit = asked.Kit, Stores = StoresOf(request, asked), SearchFrom = "",
            });
            return begun with { Messages = [new FindKitDelayWeeks(batch.Id, "")] };
        }
        return (await Listed(request, session, asked)).Match(weeks =>
        {
            session.Store(batch);
            foreach (var week in weeks)
                session.Store(week with { Id = KitDelayWeek.IdOf(batch.Id, week.Week), Batch = batch.Id });
            return Answer.Accepted(begun.Location!, new Begun(batch.Id, weeks.Count))
                with { Messages = [.. weeks.Select(week => new DelayKitsOfWeek(batch.Id, week.Week))] };
        }, refusal => refusal);
    }

    /// <summary>The stores that are asked for and that the caller has access to; null: all.</summary>
    private static IReadOnlyList<string>? StoresOf(Request request, Asked asked) =>
        asked.Stores.Count > 0 ? [.. asked.Stores.Where(request.Caller.MayAccess)]
            : request.Caller.Stores.Contains(Caller.AnyStore) ? null : request.Caller.Stores;

    private static async Task<OneOf<IReadOnlyList<KitDelayWeek>, Answer>> Listed(
        Request request, IDocumentSession session, Asked asked)
    {
        var weeks = asked.Kits.GroupBy(kit => kit.Week, StringComparer.Ordinal).ToList();
        var places = (await session.LoadManyAsync<WeekPlace>(request.Cancelled, [.. weeks.Select(week => week.Key)]))
            .Where(place => request.Caller.MayAccess(place.Store)).ToDictionary(place => place.Id);
        var unknown = asked.Kits.Index().Where(kit => !places.ContainsKey(kit.Item.Week)).Select(kit =>
            new Fault($"/kits/{kit.Index}/week", $"There is no week \"{kit.Item.Week}\".")).ToList();
        if (unknown.Count > 0) return Refused.For(new FaultReport(unknown), 422);
        return weeks.Select(week => new KitDelayWeek
        {
            Id = "", Batch = "", Week = week.Key, Store = places[week.Key].Store,
            Kits = [.. week.Select(kit => kit.Kit).Distinct()],
        }).ToList();
    }

    /// <summary>A form in which a day stands and in which nobody knows it says both, as a list.</summary>
    private static LocalDateTime? ReadEta(JsonFields json)
    {
        if (json.Optional("eta") is not { IsList: true } both) return json.NullableLocalTime("eta");
        both.AddFault("Give the day, or say that nobody knows when it comes; not both.");
        return null;
    }

    private static Asked Read(JsonFields json)
    {
        var limits = json.PlanLimits(PlanLimits.MostSeconds, DefaultWorkers);
        var asked = new Asked(
            json.OptionalList("kits", kit => kit.Object(fields => new WeekKit(fields.Id("week"), fields.Id("kit"))), MostWeeks),
            json.OptionalId("direction"), json.OptionalId("kit"), json.OptionalList("stores", store => store.Id(), MostWeeks),
            ReadEta(json), json.OptionalText("why", longest: 2000),
            limits is { Seconds: null, Effort: null } ? limits with { Seconds = DefaultSeconds } : limits,
            json.Has("autoPublish") ? json.Choice<AutoPublish>("autoPublish") : AutoPublish.Never);
        if (!json.Has("kits") && !json.Has("direction"))
            json.AddFault("kits", "Give kits, each with its week; or a direction and one of its kits.");
        if (json.Has("kits") && json.Has("direction")) json.AddFault("direction", "Give either kits or a direction.");
        if (json.Has("direction") != json.Has("kit")) json.AddFault("kit", "A direction and one of its kits belong together.");
        if (json.Has("kits") && asked.Kits.Count == 0) json.AddFault("kits", "Name at least one kit.");
        return asked;
    }
}
