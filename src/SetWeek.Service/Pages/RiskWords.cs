using System.Globalization;
using NodaTime;
using SetWeek.Scheduling;
using SetWeek.Scheduling.Risks;

namespace SetWeek.Service.Pages;

/// <summary>Risks as people say them, on paper and at a terminal.</summary>
internal sealed class RiskWords(Week week)
{
    private readonly PageWords words = new(week);

    /// <summary>What holds how often, the launch first.</summary>
    public IEnumerable<string> Chances(RiskReport risk)
    {
        yield return $"Launch holds {Of(risk.Launch)}.";
        if (risk.Done != risk.Launch) yield return $"All that is planned is done in some night {Of(risk.Done)}.";
        if (risk.Secured.Held < risk.Secured.Runs) yield return $"Nothing half-secured is left for the morning {Of(risk.Secured)}.";
        yield return risk.Finish is { P10: null, P90: null } ? "In most runs something that is planned is done in no night of the week."
            : $"Work ends by {At(risk.Finish.P50)} in half of the runs, by {At(risk.Finish.P80)} in 80 of 100, "
                + $"by {At(risk.Finish.P90)} in 90.";
    }

    /// <summary>Nothing where it was not asked.</summary>
    public IEnumerable<string> Helps(RiskReport risk)
    {
        if (risk.Helps is not { } helps) yield break;
        if (helps.Best.Count == 0)
            yield return $"Of {helps.Tried} remedies that were tried none makes the launch or the nights hold more often.";
        foreach (var one in helps.Best)
            yield return $"{one.Sentence} Then launch holds {Of(one.Launch)}, {Signed(one.Gain)} (±{Number(100 * one.GainError)}), and "
                + $"{Number(one.NightsInWindow)} of {week.Nights.Count} nights end in their windows"
                + $"{(one.PlannedAnew ? "; the rest was planned anew" : "")}.";
        if (helps.Both is { } both) yield return $"With both, launch holds {Of(both)}.";
    }

    public static string Caution(RiskReport risk) =>
        $"{Count(risk.Runs)} runs, seed {risk.Seed}; {(risk.UncertainTasks == 1 ? "1 task is" : $"{risk.UncertainTasks} tasks are")} uncertain. "
        + "The plan is worked in its order and nobody re-plans. It is an estimate under the estimates given, and no promise: late kits, "
        + "illness and wrong estimates are no part of it.";

    public string Night(string id) => words.Night(id) is { } window ? PageWords.Day(window.Opens) : id;

    public string Task(string id) => words.Task(id) is { } task ? $"{task.Name} ({id})" : id;

    /// <summary>"in 93 of 100 runs (±0.5)": one standard error, of the number of runs alone.</summary>
    public static string Of(Chance chance) => chance switch
    {
        { Held: 0 } => $"in none of {Count(chance.Runs)} runs",
        _ when chance.Held == chance.Runs => $"in all {Count(chance.Runs)} runs",
        _ => $"in {Hundredths(chance.Share)} of 100 runs (±{(100 * chance.StandardError).ToString("0.0#", CultureInfo.InvariantCulture)})",
    };

    /// <summary>Whole where nothing is hidden by that.</summary>
    public static string Hundredths(double share) => (100 * share) switch
    {
        > 0 and < 1 or > 99 and < 100 => (100 * share).ToString("0.0#", CultureInfo.InvariantCulture),
        var hundredths => hundredths.ToString("0", CultureInfo.InvariantCulture),
    };

    public static string Time(OffsetDateTime? time) => time is { } at ? PageWords.Time(at.LocalDateTime) : "";

    /// <summary>Nothing where it would be 0.0.</summary>
    public static string Minutes(double minutes) => minutes < 0.05 ? "" : $"{Number(minutes)} min";

    /// <summary>Nothing where there is as good as none.</summary>
    public static string Correlation(double value) => Math.Abs(value) < 0.05 ? "" : value.ToString("0.00", CultureInfo.InvariantCulture);

    private static string At(OffsetDateTime? time) => time is { } at
        ? $"{at.LocalDateTime.ToString("ddd d MMM", CultureInfo.InvariantCulture)} {PageWords.Time(at.LocalDateTime)}" : "no night of the week";

    private static string Count(int number) => number.ToString("N0", CultureInfo.InvariantCulture);

    private static string Number(double value) => value.ToString("0.0", CultureInfo.InvariantCulture);

    private static string Signed(double share) => $"{(share < 0 ? "" : "+")}{Number(100 * share)} of 100";
}
