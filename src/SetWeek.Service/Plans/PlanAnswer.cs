using System.Text.Json;
using Marten;
using NodaTime;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Service.Exports;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Weeks;
using SetWeek.Service.Solving;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Plans;

/// <summary>Answers with a plan in the format that the caller accepts: JSON, an HTML page or CSV.</summary>
public static class PlanAnswer
{
    private const string Json = "application/json", Page = "text/html", Table = "text/csv";

    public static QueryParameter Night { get; } = new("night",
        "For the page of a week that is large: the id of the night that it shows with all its work, or all", "monday");

    public static IReadOnlyList<Reply> Replies { get; } =
    [
        new(200, "The plan, as JSON, as a page (Accept: text/html) or as a table (Accept: text/csv)", typeof(View)),
        Reply.Page("The plan as a page"),
        Reply.Table("The plan as a table"),
    ];

    /// <param name="Chance">The chance that the plan holds, measured on 10,000 runs; null while the search runs.</param>
    /// <param name="EndedEarly">Whether a lead ended the search with the best plan found by then.</param>
    public sealed record View(
        string Id, CandidateState State, bool Published, long WeekVersion, string InputHash, LocalDateTime Now, BestView? Best,
        [property: SentAs(typeof(Plan))] JsonElement? Plan, HoldChance? Chance, ChangesView? Changes,
        IReadOnlyList<OptionView> Options, string? Failure, bool EndedEarly);

    /// <summary>An option of a re-plan.</summary>
    /// <param name="Address">
    /// The path of its plan, which is read there and published at {Address}/publish; null while the search runs.
    /// </param>
    /// <param name="Chance">The chance that its plan holds, measured on 10,000 runs; null while the search runs.</param>
    public sealed record OptionView(
        string Id, string? Address, string Name, string Sentence, IReadOnlyList<OptionCost> Costs, OptionChanges Changes,
        HoldChance? Chance);

    /// <param name="Shifts">Number of changed shifts.</param>
    /// <param name="Moved">Number of stints in another night.</param>
    /// <param name="Told">Number of people to tell.</param>
    public sealed record OptionChanges(int Shifts, int Moved, int Told);

    /// <param name="AfterMilliseconds">Time from the start of the search.</param>
    public sealed record BestView(long AfterMilliseconds, IReadOnlyList<GoalValue> Goals);

    public static async Task<Answer> Of(
        Request request, IQuerySession session, FoldedStream<StoreWeek> stream, CandidatePlan stored)
    {
        var week = stream.State!;
        var candidate = await session.AsOfNow(stored, stream, request.Cancelled);
        var published = week.Published?.PlanId == candidate.Id;
        var format = request.PreferredType(Json, Page, Table);
        if (format is Table && candidate.Plan is null)
            return Refused.With(409, $"This plan is {StateText(candidate, published)} and has nothing to show.",
                "no-plan-yet");
        var crew = candidate.Plan is null ? null : await session.CrewOf(week.Id, request.Cancelled);
        if (crew is not null) candidate = candidate.WithNames(crew);
        if (format is Page) return await PlanPages.Requested(request, session, stream, candidate);
        // Only a re-plan that has its plan compares it with another.
        if (format is Json && (crew is null || candidate.Replaces is null))
            return Answer.Ok(ViewOf(candidate, published, null,
                candidate.Settled ? null : await session.BestSoFarOf(candidate.Id, request.Cancelled)));
        if (crew is null) return NotAcceptable;
        var input = PlanningProblem.Of(week, crew, candidate.Now);
        return format switch
        {
            Json => Answer.Ok(ViewOf(candidate, published, ChangesView.Of(candidate, input), null)),
            Table => Answer.Table(WeekCsv.Of(input.Week, candidate.Plan!)),
            _ => NotAcceptable,
        };
    }

    /// <summary>What the caller may do on the page of a plan; null for a caller who may not, or has no session.</summary>
    /// <param name="plan">The id of a plan that can be published; null if the plan cannot.</param>
    public static PlanActs? ActsFor(Request request, string week, long version, string? plan) =>
        request.Caller.HasRole(RequestPlan.Operation.MayUse) && request.FormToken() is { } token
            ? new PlanActs($"/weeks/{week}/plans", plan is null ? null : $"{AddressOf(week, plan)}/publish",
                $"/weeks/{week}/plan", token, $"\"{version}\"", request.PlanIds.Next(request.SystemTime))
            { WhatIf = $"/weeks/{week}/what-if" } : null;

    private static Answer NotAcceptable => Refused.With(406, "A plan is available as application/json, text/html or text/csv.");

    private static View ViewOf(CandidatePlan candidate, bool published, ChangesView? changes, BestSoFar? progress)
    {
        var best = progress is not null ? new BestView(progress.AfterMilliseconds, progress.Goals)
            : candidate is { Plan.Goals.Count: > 0, AfterMilliseconds: { } after } ? new BestView(after, candidate.Plan.Goals)
            : null;
        return new View(candidate.Id, candidate.State, published, candidate.WeekVersion, candidate.InputHash, candidate.Now, best,
            candidate.Plan is { } plan ? AsFile(plan) : null, candidate.Chance,
            changes,
            [.. (progress?.Options ?? candidate.Options).Select(option => new OptionView(option.Id,
                progress is null ? AddressOf(candidate.Week, option.PlanId) : null, option.Name, option.Sentence, option.Costs,
                new OptionChanges(option.Shifts, option.Moved, option.Told), option.Chance))], candidate.Failure,
            candidate.IsEndedEarly);
    }

    public static string AddressOf(string week, string plan) => $"/weeks/{week}/plans/{plan}";

    public static string StateText(CandidatePlan candidate, bool published) =>
        published ? "published" : candidate.State.ToString().ToLowerInvariant();

    /// <summary>The plan file as an element to embed in another answer.</summary>
    public static JsonElement AsFile(Plan plan)
    {
        using var document = JsonDocument.Parse(PlanFile.Write(plan));
        return document.RootElement.Clone();
    }
}
