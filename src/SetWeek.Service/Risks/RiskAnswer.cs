using OneOf;
using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Planning.Risk;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Search;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Http.ServerSent;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Weeks;
using SetWeek.Service.Plans;
using SetWeek.Service.Words;

namespace SetWeek.Service.Risks;

/// <summary>Answers with the risk report of a plan, as JSON or as a page.</summary>
public static class RiskAnswer
{
    private const string Json = "application/json", Page = "text/html";

    private const int MostSeconds = 60;

    /// <summary>On a machine that is not busy, 10,000 runs take a second or two.</summary>
    private static readonly SearchLimits SimulationLimit = new() { Time = TimeSpan.FromSeconds(8) };

    /// <summary>What the search may take beyond one and a half times what was asked for.</summary>
    private static readonly TimeSpan Grace = TimeSpan.FromSeconds(2);

    private static readonly int DefaultSeconds = (int)MitigationSearch.DefaultLimits.Time.TotalSeconds;

    /// <summary>The report proposes changes that only a lead or head office may decide.</summary>
    public static Permission MayUse { get; } = new(AccessScope.Week, Role.Lead, Role.HeadOffice);

    public static IReadOnlyList<QueryParameter> Query { get; } =
    [
        new("runs", $"Number of simulated weeks, 1 to {RiskOptions.MaxRuns}; default: 10000", "10000", typeof(int)),
        new("seed", "Seed of the random durations; default: 0", "0", typeof(int)),
        new("spreading", "Distribution of a duration over its three-point estimate: beta (default) or triangular", "beta"),
        new("spread",
            "Shortest and longest duration, in percent of the planned one, of tasks without an estimate; default: 100-100",
            "80-160"),
        new("grace", "Start work even if it is expected to end up to this many minutes later than the rules allow; default: 0",
            "0", typeof(int)),
        new("helps", "no: skip the search for changes that would help, each with a new plan", "no"),
        new("seconds", $"How long that search may take, 1 to {MostSeconds}; default: {DefaultSeconds}", "6", typeof(int)),
        new("effort", $"In place of seconds: its work limit, 1 to {MostSeconds}; the same effort gives the same result", "5",
            typeof(int)),
    ];

    public static IReadOnlyList<Reply> Replies { get; } =
    [
        new(200,
            "Probabilities, the tasks that drive them, and changes that would help; as JSON or as a page (Accept: text/html)",
            typeof(RiskReport)),
        Reply.Page("The same as a page"),
        new(200, "The same in parts, as server-sent events while they are computed: \"chance\" has the chance to hold, each "
            + "\"mitigation\" a change that was tried and what it gave, and \"report\" the whole answer",
            typeof(string), EventStream.ContentType),
    ];

    public static async Task<Answer> Of(Request request, LoadedPlan plan)
    {
        if (ReadOptions(request).TryPickT1(out var refusal, out var asked)) return refusal;
        var format = request.PreferredType(Json, Page, EventStream.ContentType);
        if (format is null) return Refused.With(406, $"This is available as {Json}, {Page} or {EventStream.ContentType}.");
        if (format == EventStream.ContentType)
            return await RiskStream.Open(request, (tell, stop) => Simulate(plan.Problem, plan.Schedule, asked.Options,
                asked.Helps, stop, tell));
        var result = await request.Admission.Admit(request.Caller.Tenant,
            stop => Simulate(plan.Problem, plan.Schedule, asked.Options, asked.Helps, stop), request.Cancelled);
        return await result.Match(async report => format == Page
            ? await request.Page<RiskPage, RiskPage.Risk>(new(plan.Title, plan.Problem.Week, report)
            {
                Links = WeekLinks.Of(request.Id, plan.Stream.State!.Direction, request.Caller.Role, "Week"),
            })
            : Answer.Ok(report), Task.FromResult);
    }

    /// <param name="helps">Limits of the search for changes that would help; null: no search.</param>
    private static RiskReport Simulate(Problem problem, Schedule schedule, RiskOptions options, SearchLimits? helps,
        CancellationToken stop, RiskStream.Tell? tell = null)
    {
        var report = RiskSimulation.Within(problem, schedule, options, SimulationLimit, stop);
        tell?.Invoke("chance", report.Hold);
        return helps is null ? report : report with
        {
            Helps = MitigationSearch.Of(problem, schedule, options, report, helps, stop,
                most: TimeSpan.FromSeconds(helps.Effort ?? helps.Time.TotalSeconds) * 1.5 + Grace,
                measured: tell is null ? null : tried => tell("mitigation", tried)),
        };
    }

    /// <summary>A refusal lists every invalid parameter; its code is that of the first.</summary>
    private static OneOf<Asked, Answer> ReadOptions(Request request)
    {
        var runs = Number(request, "runs", 1, RiskOptions.MaxRuns, RiskOptions.DefaultRuns);
        var seed = Number(request, "seed", 0, int.MaxValue, 0);
        var grace = Number(request, "grace", 0, RiskOptions.MaxGraceMinutes, 0);
        var seconds = Number(request, "seconds", 1, MostSeconds, DefaultSeconds);
        var effort = request.Query("effort") is { } work ? RiskParameters.Number(work, 1, MostSeconds) : null;
        var spreading = RiskParameters.Spreading(request.Query("spreading") ?? "beta");
        var spread = request.Query("spread") is { } text ? RiskParameters.Spread(text) : null;
        (string Sentence, string Code)?[] faults =
        [
            runs is null ? ($"runs needs a whole number from 1 to {RiskOptions.MaxRuns}.", "no-runs") : null,
            seed is null ? ($"seed needs a whole number from 0 to {int.MaxValue}.", "no-seed") : null,
            grace is null ? ($"grace needs a whole number of minutes from 0 to {RiskOptions.MaxGraceMinutes}.", "no-grace")
                : null,
            spreading is null ? ("spreading needs beta or triangular.", "no-spreading") : null,
            spread is null && request.Query("spread") is not null ? (RiskParameters.SpreadForm("spread"), "no-spread") : null,
            request.Query("helps") is not (null or "yes" or "no") ? ("helps needs yes or no.", "no-helps") : null,
            seconds is null ? ($"seconds needs a whole number from 1 to {MostSeconds}.", "no-seconds") : null,
            effort is null && request.Query("effort") is not null
                ? ($"effort needs a whole number from 1 to {MostSeconds}.", "no-effort") : null,
            request.Query("effort") is not null && request.Query("seconds") is not null
                ? ("Give either seconds or effort.", "no-effort") : null,
        ];
        (string Sentence, string Code)[] found = [.. faults.OfType<(string, string)>()];
        if (found.Length > 0) return Refused.With(400, string.Join(" ", found.Select(fault => fault.Sentence)), found[0].Code);
        return new Asked(new RiskOptions { Runs = runs!.Value, Seed = seed!.Value, GraceMinutes = grace!.Value,
            Distribution = spreading!.Value, DefaultSpread = spread }, request.Query("helps") == "no" ? null
            : new SearchLimits { Time = TimeSpan.FromSeconds(seconds!.Value), Effort = effort });
    }

    private sealed record Asked(RiskOptions Options, SearchLimits? Helps);

    private static int? Number(Request request, string name, int min, int max, int otherwise) =>
        request.Query(name) is { } text ? RiskParameters.Number(text, min, max) : otherwise;
}
