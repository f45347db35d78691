using System.Text.Json;
using Marten;
using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Kits;
using SetWeek.Domain.Plans;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Pages.HeadOffice;
using SetWeek.Service.Plans;
using SetWeek.Service.Storage;
using SetWeek.Service.Words;

namespace SetWeek.Service.KitDelays;

/// <summary>
/// The report of a kit delay: sums over all weeks in stores that the caller has access to, and a page of these weeks.
/// </summary>
public sealed class ReadKitDelay : IQuery
{
    /// <param name="Cancelled">For all stores that the caller has access to.</param>
    /// <param name="Done">Whether nothing more will happen.</param>
    /// <param name="Searching">Whether weeks of the direction are still being found, so that the sums may grow.</param>
    /// <param name="Reason">Why there are no weeks, or not all.</param>
    public sealed record View(string Id, Instant Asked, LocalDateTime? Eta, AutoPublish AutoPublish, bool Cancelled, bool Done,
        bool Searching, string? Reason, Sums Sums, IReadOnlyList<WeekView> Weeks);

    /// <param name="States">Number of weeks in each state; states without weeks are left out.</param>
    /// <param name="MissLaunch">Weeks for which no plan is ready by launch (proven).</param>
    /// <param name="LaunchNotKnown">Weeks for which no plan was found in the time given.</param>
    /// <param name="ToTell">People to tell, over all weeks.</param>
    /// <param name="Costs">Wages of the published plans and of their re-plans, by currency.</param>
    public sealed record Sums(
        int Weeks, IReadOnlyDictionary<string, int> States, int MissLaunch, int LaunchNotKnown, int ToTell,
        IReadOnlyList<CostSum> Costs)
    {
        /// <summary>Weeks in which something is still to happen.</summary>
        internal int Open => States.GetValueOrDefault(NameOf(KitDelayState.Waiting))
            + States.GetValueOrDefault(NameOf(KitDelayState.Planning));

        private static string NameOf(KitDelayState state) => JsonNamingPolicy.CamelCase.ConvertName($"{state}");

        public static Sums Of(IReadOnlyDictionary<KitDelayState, int> states, int missLaunch, int launchNotKnown, int toTell,
            IReadOnlyList<CostSum> costs) =>
            new(states.Values.Sum(),
                states.ToDictionary(state => NameOf(state.Key), state => state.Value),
                missLaunch, launchNotKnown, toTell, costs);
    }

    /// <summary>In minor units.</summary>
    public sealed record CostSum(string Currency, long Was, long Now);

    /// <param name="Plan">The address of the re-plan; its changes are at {Plan}/changes, with what to tell whom.</param>
    /// <param name="Rescues">Changes that make a plan possible, each proven.</param>
    public sealed record WeekView(
        string Week, string Store, IReadOnlyList<string> Kits, KitDelayState State, string? Reason, string? Plan,
        LaunchProspect? Launch, int Shifts, int Moved, IReadOnlyList<PersonView> Told, IReadOnlyList<string> LeftOut,
        CostSum? Cost, IReadOnlyList<string> Conflict, IReadOnlyList<string> Rescues);

    /// <param name="Name">Null if the person is erased.</param>
    public sealed record PersonView(string Person, string? Name);

    public static Operation Operation => new("GET", "/kit-delays/{id}", "readKitDelay",
        "Reads how far a kit delay is, and what it means: who moves, who cannot make launch, what would rescue them, the cost")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
        Query = ListPage.Query,
        Replies =
        [
            new(200, "The sums over all weeks and a page of them; follow the Link with rel=next", typeof(View))
            {
                HasLink = true,
            },
            Reply.Page("The same as a page: a store with what has come of it, without names, and a button that cancels"),
        ],
    };

    public static Task<Answer> Handle(Request request, IQuerySession session) => ListPage.Of(request).Match(async page =>
    {
        if (await session.LoadAsync<KitDelay>(request.Id, request.Cancelled) is not { } batch)
            return Refused.Missing("kit delay", request.Id);
        var items = new KitDelayItems(session, batch.Id, request.Caller, request.Cancelled);
        var sums = await items.Sums();
        if (!KitDelayItems.MayRead(request.Caller, batch, sums.Weeks)) return Refused.Missing("kit delay", request.Id);
        var (shown, last) = page.Cut(await items.After(page.After, page.ReadLimit), item => item.Week);
        var isDone = batch.SearchFrom is null && sums.Open == 0;
        if (request.WantsPage)
            return await Page(request, session, batch, sums, isDone, shown,
                last is null ? null : page.Next($"/kit-delays/{batch.Id}", last));
        var crews = (await session.LoadManyAsync<CrewFile>(request.Cancelled, [.. shown.Select(item => item.Week)]))
            .ToDictionary(crew => crew.Id);
        var view = new View(batch.Id, batch.Asked, batch.Eta, batch.AutoPublish,
            KitDelayItems.IsCancelled(request.Caller, batch), isDone, batch.SearchFrom is not null,
            ReasonOf(batch, sums.Weeks), sums,
            [.. shown.Select(item => Of(item, crews.GetValueOrDefault(item.Week) ?? new CrewFile(item.Week, [])))]);
        return page.Answer($"/kit-delays/{batch.Id}", view, last);
    }, Task.FromResult);

    private static async Task<Answer> Page(Request request, IQuerySession session, KitDelay batch, Sums sums, bool isDone,
        IReadOnlyList<KitDelayWeek> weeks, string? next)
    {
        var direction = batch.Direction is { } id ? (await Streams.Direction(session, id, request.Cancelled)).State : null;
        var stores = await StreamNames.OfStores(session, weeks.Select(week => week.Store), request.Cancelled);
        var isCancelled = KitDelayItems.IsCancelled(request.Caller, batch);
        return await request.Page<KitDelayPage, KitDelayPage.Content>(new(request.Caller.Tenant,
            request.Caller.Role, $"/kit-delays/{batch.Id}", KitDelaySentences.Name(batch, direction),
            [
                KitDelaySentences.Expected(batch.Eta), .. KitDelaySentences.Progress(sums, isCancelled,
                    batch.SearchFrom is not null,
                    batch.Failure ?? (WaitsNowhere(batch, sums.Weeks) ? KitDelaySentences.NoneWaits(batch, direction) : null)),
            ],
            $"Reported {LedgerSentences.At(batch.Asked.InUtc().LocalDateTime)} (UTC). " + (batch.AutoPublish == AutoPublish.Never
                ? "Each lead decides about the new plan." : "A new plan that changes no shift is published without the lead."),
            [
                .. weeks.Select(week => new KitDelayPage.Store(stores.GetValueOrDefault(week.Store, week.Store),
                    $"/weeks/{week.Week}/plan", [.. KitDelaySentences.Of(week)],
                    week is { Plan: { } plan, Outcome.Launch: LaunchProspect.Kept }
                        ? $"{PlanAnswer.AddressOf(week.Week, plan)}/changes" : null)),
            ], next, isDone, isDone || isCancelled ? null : request.FormToken()));
    }

    private static string? ReasonOf(KitDelay batch, int weeks) => batch.Failure ?? (WaitsNowhere(batch, weeks)
        ? $"No open week of the direction \"{batch.Direction}\" waits for a kit \"{batch.Kit}\"." : null);

    private static bool WaitsNowhere(KitDelay batch, int weeks) =>
        batch.Direction is not null && batch.SearchFrom is null && weeks == 0;

    private static WeekView Of(KitDelayWeek item, CrewFile crew)
    {
        var outcome = item.Outcome;
        return new WeekView(item.Week, item.Store, item.Kits, item.State, item.Reason,
            item.Plan is { } plan ? PlanAnswer.AddressOf(item.Week, plan) : null, outcome?.Launch,
            outcome?.Shifts ?? 0, outcome?.Moved ?? 0,
            [.. outcome?.Told.Select(person => new PersonView(person, crew.Find(person)?.Name)) ?? []], outcome?.LeftOut ?? [],
            outcome?.Cost is { } cost ? new CostSum(outcome.Currency, cost.Was, cost.Now) : null,
            [.. outcome?.Conflict.Select(sentence => NameRemoval.WithNames(sentence, crew)) ?? []],
            [.. outcome?.Repairs.Select(sentence => NameRemoval.WithNames(sentence, crew)) ?? []]);
    }
}
