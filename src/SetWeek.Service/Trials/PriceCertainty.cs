using System.Text.Json;
using Marten;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Planning.Certainty;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Search;
using SetWeek.Service.Access;
using SetWeek.Service.Facts;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Trials;
using SetWeek.Service.Plans;
using SetWeek.Service.Solving;
using SetWeek.Service.Storage;
using SetWeek.Service.Words;

namespace SetWeek.Service.Trials;

/// <summary>
/// What certainty costs: plans the week for several chances to hold while the caller waits, and stores nothing.
/// </summary>
public sealed class PriceCertainty : IQuery
{
    private const int DefaultSeconds = 20, MostSeconds = 60;

    public sealed record Body(int? Seconds, int? Effort, int? Seed, int? Workers);

    /// <param name="Plans">The cheapest first; each is surer than the one before it.</param>
    /// <param name="Sentence">Whether the surest reaches the chance that the week asks for, or that there is no plan.</param>
    /// <param name="WithoutPlan">
    /// Where there are no plans: a plan file with the status infeasible, its conflict and repairs, or with the status unknown.
    /// </param>
    public sealed record View(IReadOnlyList<PlanView> Plans, string Sentence,
        [property: SentAs(typeof(Plan))] JsonElement? WithoutPlan);

    /// <param name="AskedPercent">The chance that the search asked for; 0: it ignored the chance.</param>
    /// <param name="Cost">Wages in minor units.</param>
    /// <param name="Plan">The plan file, with the week's own goals.</param>
    public sealed record PlanView(int AskedPercent, HoldChance Chance, long Cost,
        [property: SentAs(typeof(Plan))] JsonElement Plan);

    public static Operation Operation => new("POST", "/weeks/{id}/certainty", "priceCertainty",
        "Plans the week for several chances to hold, from the cheapest plan to the surest, and stores nothing")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Body), """{"seconds": 20, "workers": 2, "seed": 0}"""),
        Replies =
        [
            new(200,
                "Up to five plans, with the chance and the wages of each; if there are none, the reason. As JSON or as a page "
                + "(Accept: text/html)", typeof(View)),
            Reply.Page("The same as a page, with a form that asks for one of them"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if (request.Read(Read).TryPickT1(out var faults, out var limits)) return Refused.For(faults);
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var now = StoreTime.Local(week, request.Now);
        var input = PlanningProblem.Of(week, await session.CrewOf(week.Id, request.Cancelled), now);
        var result = await request.Admission.Admit(
            request.Caller.Tenant, stop => CertaintySearch.Find(input.Week, limits, input.Replan, stop), request.Cancelled);
        return await result.Match(offer => request.WantsPage
            ? Page(request, session, offer, limits)
            : Task.FromResult(Answer.Ok(new View([.. offer.Plans.Select(plan =>
                new PlanView(plan.AskedPercent, plan.Chance, plan.Cost, PlanAnswer.AsFile(plan.Plan)))],
                new ChanceSentences(input.Week).Of(offer), offer.WithoutPlan is { } none ? PlanAnswer.AsFile(none) : null))),
            Task.FromResult);
    }

    private static async Task<Answer> Page(Request request, IQuerySession session, CertaintyOffer offer, SearchLimits limits) =>
        await (await FactPages.Read(request, session)).Match(
            loaded => request.Page<CertaintyPage, CertaintyPage.Prices>(
                new(loaded.Forms, offer, (int)limits.Time.TotalSeconds)), Task.FromResult);

    private static SearchLimits Read(JsonFields json)
    {
        json.RefuseNow();
        return json.PlanLimits(MostSeconds).ToSearch(DefaultSeconds);
    }
}
