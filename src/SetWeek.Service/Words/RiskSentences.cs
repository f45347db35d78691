using System.Globalization;
using NodaTime;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Service.Words;

/// <summary>Risks as people say them, on paper and at a terminal.</summary>
public sealed class RiskSentences(Week week)
{
    private const int MostDrivers = 8;

    private readonly WeekLabels words = new(week);

    /// <summary>What holds how often, the launch first.</summary>
    public IEnumerable<string> Chances(RiskReport risk)
    {
        yield return $"Launch holds {Share(risk.Launch)}.";
        if (risk.Launch.Held < risk.Launch.Runs)
            yield return "Nobody plans again in a run: work that no longer fits its night is put off as the rules allow, and "
                + "what comes too late counts as a missed launch; a low figure says that the plan has no room for work that "
                + "takes longer, not that all is lost.";
        if (risk.Launch.Held < risk.Launch.Runs && risk.WithGrace.Count > 0)
            yield return $"Where work may end later than the rules allow, launch holds {Graces(risk.WithGrace)} of 100 runs: "
                + "whether it may is for the lead and the local code to say, and never for the under-18s.";
        if (risk.Helps?.Best is [var most, ..]) yield return $"What helps most: {most.Sentence} {Then(risk, most)}.";
        if (risk.Done.Held < risk.Done.Runs)
            yield return $"Something that is planned is not done by the end of the last night {Share(risk.Done.Complement())}.";
        if (risk.Secured.Held < risk.Secured.Runs)
            yield return $"Nothing half-secured is left for the morning {Share(risk.Secured)}.";
        if (risk.StintsPutOff > 0) yield return $"{Number(risk.StintsPutOff)} pieces of work a run are put off to a later night.";
        // Of ends that are the same the most certain one says it all.
        string[] ends =
        [
            .. new (int Runs, OffsetDateTime? By)[]
                { (10, risk.Finish.P10), (50, risk.Finish.P50), (80, risk.Finish.P80), (90, risk.Finish.P90) }
                .Where(end => end.By is not null).GroupBy(end => At(end.By!.Value))
                .Select(alike => $"by {alike.Key} in {alike.Max(end => end.Runs)}"),
        ];
        if (ends.Length > 0) yield return $"Work ends {string.Join(", ", ends)} of 100 runs.";
    }

    /// <summary>Nothing where it was not asked.</summary>
    public IEnumerable<string> Helps(RiskReport risk)
    {
        if (risk.Helps is not { } helps) yield break;
        if (helps.Best.Count == 0)
            yield return helps.Tried == 0 ? "No remedy was tried."
                : $"Of {helps.Tried} remedies that were tried none makes the launch or the nights hold more often.";
        foreach (var one in helps.Best)
            yield return $"{one.Sentence} Then launch holds {Share(one.Launch)}{Gain(one)}, "
                + $"{Number(one.StintsPutOff)} pieces are put off and {Number(one.NightsInWindow)} of {week.Nights.Count} "
                + $"nights end in their windows{(one.PlannedAnew ? "; the rest was planned anew" : "")}.";
        if (helps.Both is { } both) yield return $"With both, launch holds {Share(both)}.";
        if (helps.Untried.Count > 0)
            yield return $"Not looked at, the time being over: {string.Join(" ", helps.Untried.Select(one => one.Sentence))}";
    }

    /// <summary>What comes of the best remedy, where the launch does not tell it apart by what is put off.</summary>
    private static string Then(RiskReport risk, Mitigation most) => most.Gain > 0 ? $"Then launch holds {Share(most.Launch)}"
        : $"Then {Number(most.StintsPutOff)} pieces of work a run are put off instead of {Number(risk.StintsPutOff)}";

    /// <summary>The tasks that matter most, most first.</summary>
    public static IReadOnlyList<TaskRisk> Drivers(RiskReport risk) =>
        [.. risk.Tasks.Where(task => task.Criticality + task.NightCriticality + task.PutOff > 0).Take(MostDrivers)];

    public static string Caution(RiskReport risk) =>
        $"{Count(risk.Runs)} runs, seed {risk.Seed}; "
        + $"{(risk.UncertainTasks == 1 ? "1 task is" : $"{risk.UncertainTasks} tasks are")} uncertain. "
        + "The plan is worked in its order. It is an estimate under the estimates given, and no promise: late kits, illness "
        + "and wrong estimates are no part of it.";

    public string Night(string id) => words.Night(id) is { } window ? WeekLabels.Day(window.Opens) : id;

    public string Task(string id) => words.TaskName(id);

    /// <summary>"in 93 of 100 runs (±0.5)": one standard error, of the number of runs alone.</summary>
    public static string Share(EstimatedProbability chance) => chance switch
    {
        { Held: 0 } => $"in none of {Count(chance.Runs)} runs",
        _ when chance.Held == chance.Runs => $"in all {Count(chance.Runs)} runs",
        _ => string.Create(CultureInfo.InvariantCulture,
            $"in {OfHundred(chance.Share)} of 100 runs (±{100 * chance.StandardError:0.0#})"),
    };

    /// <summary>Whole where nothing is hidden by that.</summary>
    public static string OfHundred(double share) => (100 * share) switch
    {
        > 0 and < 1 or > 99 and < 100 => (100 * share).ToString("0.0#", CultureInfo.InvariantCulture),
        var hundredths => hundredths.ToString("0", CultureInfo.InvariantCulture),
    };

    public static string Time(OffsetDateTime? time) => time is { } at ? WeekLabels.Time(at.LocalDateTime) : "";

    /// <summary>Nothing where it would be 0.0.</summary>
    public static string Minutes(double minutes) => minutes < 0.05 ? "" : $"{Number(minutes)} min";

    /// <summary>Nothing where there is as good as none.</summary>
    public static string Correlation(double value) =>
        Math.Abs(value) < 0.05 ? "" : value.ToString("0.00", CultureInfo.InvariantCulture);

    /// <summary>"by 15 min in 20, by 30 min in 75".</summary>
    private static string Graces(IEnumerable<GraceRisk> all) =>
        string.Join(", ", all.Select(one => $"by {one.Minutes} min in {OfHundred(one.Launch.Share)}"));

    private static string At(OffsetDateTime time) =>
        $"{time.LocalDateTime.ToString("ddd d MMM", CultureInfo.InvariantCulture)} {WeekLabels.Time(time.LocalDateTime)}";

    private static string Count(int number) => number.ToString("N0", CultureInfo.InvariantCulture);

    private static string Number(double value) => value.ToString("0.0", CultureInfo.InvariantCulture);

    /// <summary>With a second decimal where there would be nothing to see without.</summary>
    private static string GainNumber(double value) =>
        value.ToString(Math.Abs(value) < 1 ? "0.0#" : "0.0", CultureInfo.InvariantCulture);

    /// <summary>Nothing where no run came out differently.</summary>
    private static string Gain(Mitigation one) => one is { Gain: 0, GainError: 0 } ? ""
        : $", {(one.Gain < 0 ? "" : "+")}{GainNumber(100 * one.Gain)} of 100 (±{GainNumber(100 * one.GainError)})";
}
