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
using SetWeek.Service.Plans;

namespace SetWeek.Service.KitDelays;

/// <summary>The report of a kit delay: sums over all weeks, and a page of the weeks.</summary>
public sealed class ReadKitDelay : IQuery
{
    /// <param name="Done">Whether nothing more will happen.</param>
    public sealed record View(string Id, Instant Asked, LocalDateTime? Eta, AutoPublish AutoPublish, bool Cancelled, bool Done,
        Sums Sums, IReadOnlyList<WeekView> Weeks);

    /// <param name="States">Number of weeks in each state; states without weeks are left out.</param>
    /// <param name="MissLaunch">Weeks for which no plan is ready by launch (proven).</param>
    /// <param name="LaunchNotKnown">Weeks for which no plan was found in the time given.</param>
    /// <param name="ToTell">People to tell, over all weeks.</param>
    /// <param name="Costs">Wages of the published plans and of their re-plans, by currency.</param>
    public sealed record Sums(
        int Weeks, IReadOnlyDictionary<string, int> States, int MissLaunch, int LaunchNotKnown, int ToTell,
        IReadOnlyList<CostSum> Costs);

    /// <summary>In minor units.</summary>
    public sealed record CostSum(string Currency, long Was, long Now);

    /// <param name="Plan">The address of the re-plan; its changes are at {Plan}/changes, with what to tell whom.</param>
    /// <param name="Rescues">Changes that make a plan possible, each proven.</param>
    public sealed record WeekView(
        string Week, string Store, IReadOnlyList<string> Kits, KitDelayState State, string? Reason, string? Plan,
        LaunchProspect? Launch, int Shifts, int Moved, IReadOnlyList<PersonView> Told, IReadOnlyList<string> LeftOut, CostSum? Cost,
        IReadOnlyList<string> Conflict, IReadOnlyList<string> Rescues);

    /// <param name="Name">Null if the person is erased.</param>
    public sealed record PersonView(string Person, string? Name);

    public static Operation Operation => new("GET", "/kit-delays/{id}", "readKitDelay",
        "Reads how far a kit delay is, and what it means: who moves, who cannot make launch, what would rescue them, the cost")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
        Query = ListPage.Query,
        Replies =
        [
            new(200, "The sums over all weeks and a page of them; follow the Link with rel=next", typeof(View)) { HasLink = true },
        ],
    };

    public static Task<Answer> Handle(Request request, IQuerySession session) => ListPage.Of(request).Match(async page =>
    {
        if (await session.LoadAsync<KitDelay>(request.Id, request.Cancelled) is not { } batch)
            return Refused.Missing("kit delay", request.Id);
        var all = (await session.Query<KitDelayWeek>().Where(item => item.Batch == batch.Id).ToListAsync(request.Cancelled))
            .OrderBy(item => item.Week, StringComparer.Ordinal).ToList();
        var shown = all.Where(item => string.CompareOrdinal(item.Week, page.After) > 0).Take(page.Limit).ToList();
        var crews = (await session.LoadManyAsync<CrewFile>(request.Cancelled, [.. shown.Select(item => item.Week)]))
            .ToDictionary(crew => crew.Id);
        var view = new View(batch.Id, batch.Asked, batch.Eta, batch.AutoPublish, batch.Cancelled,
            !all.Exists(item => item.IsOpen), SumsOf(all),
            [.. shown.Select(item => Of(item, crews.GetValueOrDefault(item.Week) ?? new CrewFile(item.Week, [])))]);
        return page.Answer($"/kit-delays/{batch.Id}", view, shown.Count == 0 || shown[^1] == all[^1] ? null : shown[^1].Week);
    }, Task.FromResult);

    private static Sums SumsOf(List<KitDelayWeek> all)
    {
        var outcomes = all.Select(item => item.Outcome).OfType<KitDelayOutcome>().ToList();
        return new Sums(all.Count,
            all.GroupBy(item => item.State).OrderBy(state => state.Key)
                .ToDictionary(state => JsonNamingPolicy.CamelCase.ConvertName($"{state.Key}"), state => state.Count()),
            outcomes.Count(outcome => outcome.Launch == LaunchProspect.Missed),
            outcomes.Count(outcome => outcome.Launch == LaunchProspect.NotKnown), outcomes.Sum(outcome => outcome.Told.Count),
            [.. outcomes.Where(outcome => outcome.Cost is not null).GroupBy(outcome => outcome.Currency)
                .Select(sum => new CostSum(
                    sum.Key, sum.Sum(outcome => outcome.Cost!.Was), sum.Sum(outcome => outcome.Cost!.Now)))]);
    }

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
