using OneOf;
using SetWeek.Model.Problems;
using SetWeek.Planning.Risk;
using SetWeek.Planning.Risk.Distributions;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;
using SetWeek.Service.Words;

namespace SetWeek.Service.Plans;

/// <summary>
/// How likely a plan is to hold, as JSON or as a page.
/// </summary>
public static class RiskAnswer
{
    private const string Json = "application/json", Page = "text/html";

    /// <summary>It proposes what a lead or head office may decide.</summary>
    public static Permission MayUse { get; } = new(Access.AccessScope.Week, Access.Role.Lead, Access.Role.HeadOffice);

    public static IReadOnlyList<QueryParameter> Query { get; } =
    [
        new("runs", $"How often the week is worked through, 1 to {RiskOptions.MaxRuns}; 10000 unless given", "10000"),
        new("seed", "Another seed, other luck; 0 unless given", "0"),
        new("spreading", "How chance lies between the three points: beta (unless given) or triangular", "beta"),
        new("spread", "For tasks without an estimate: percent at best and at worst; unless given they are certain", "80-160"),
        new("grace", "Minutes that work may be expected to end too late and is begun all the same; 0 unless given", "0"),
        new("helps", "no: do not look for what would help, which takes up to three seconds", "no"),
    ];

    public static IReadOnlyList<Reply> Replies { get; } =
    [
        new(200, "Chances, what drives them, what would help; as JSON or as a page (Accept: text/html)", typeof(RiskReport)),
    ];

    public static async Task<Answer> Of(Request request, LoadedPlan plan)
    {
        if (ReadOptions(request).TryPickT1(out var refusal, out var options)) return refusal;
        var form = request.PreferredType(Json, Page);
        if (form is null) return Refused.With(406, "This is answered as application/json or text/html.");
        var helps = request.Query("helps") != "no";
        var worked = await request.Admission
            .Admit(stop => Simulate(plan.Problem, plan.Schedule, options, helps, stop), request.Cancelled);
        return worked.Match(report => form == Page
            ? Answer.Text(RiskPage.Of(plan.Title, plan.Problem.Week, report), WeekPage.ContentType) : Answer.Ok(report),
            busy => busy);
    }

    private static RiskReport Simulate(Problem problem, Schedule schedule, RiskOptions options, bool helps, CancellationToken stop)
    {
        var report = RiskSimulation.Of(problem, schedule, options, stop);
        return helps ? report
            with { Helps = MitigationSearch.Of(problem, schedule, options, report, time: MitigationSearch.DefaultTime, stop: stop) } : report;
    }

    /// <summary>Everything that is wrong is said at once; the code is that of the first.</summary>
    private static OneOf<RiskOptions, Answer> ReadOptions(Request request)
    {
        var runs = Number(request, "runs", 1, RiskOptions.MaxRuns, RiskOptions.DefaultRuns);
        var seed = Number(request, "seed", 0, int.MaxValue, 0);
        var grace = Number(request, "grace", 0, RiskOptions.MaxGraceMinutes, 0);
        var spreading = RiskParameters.Spreading(request.Query("spreading") ?? "beta");
        var spread = request.Query("spread") is { } text ? RiskParameters.Spread(text) : null;
        (string Sentence, string Code)?[] faults =
        [
            runs is null ? ($"runs takes a whole number from 1 to {RiskOptions.MaxRuns}.", "no-runs") : null,
            seed is null ? ("seed takes a whole number from 0.", "no-seed") : null,
            grace is null ? ($"grace takes a whole number from 0 to {RiskOptions.MaxGraceMinutes}.", "no-grace") : null,
            spreading is null ? ("spreading takes beta or triangular.", "no-spreading") : null,
            spread is null && request.Query("spread") is not null ? (RiskParameters.SpreadForm("spread"), "no-spread") : null,
            request.Query("helps") is not (null or "yes" or "no") ? ("helps takes yes or no.", "no-helps") : null,
        ];
        (string Sentence, string Code)[] wrong = [.. faults.OfType<(string, string)>()];
        if (wrong.Length > 0) return Refused.With(400, string.Join(" ", wrong.Select(fault => fault.Sentence)), wrong[0].Code);
        return new RiskOptions { Runs = runs!.Value, Seed = seed!.Value, GraceMinutes = grace!.Value,
            Distribution = spreading!.Value, DefaultSpread = spread };
    }

    private static int? Number(Request request, string name, int least, int most, int otherwise) =>
        request.Query(name) is { } text ? RiskParameters.Number(text, least, most) : otherwise;
}
