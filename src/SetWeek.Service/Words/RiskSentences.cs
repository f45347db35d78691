using System.Globalization;
using NodaTime;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Service.Words;

/// <summary>The sentences and figures of a risk report, for the command line and the pages.</summary>
public sealed class RiskSentences(Week week)
{
    private const int MostDrivers = 8;

    private readonly WeekLabels words = new(week);

    /// <summary>The estimated probabilities: that the plan holds, then the launch and the nights.</summary>
    public IEnumerable<string> Chances(RiskReport risk)
    {
        foreach (var sentence in new ChanceSentences(week).Of(risk.Hold)) yield return sentence;
        yield return $"In {Count(risk.Runs)} simulated weeks without re-planning, in which {NightsEnd(risk)}, "
            + $"{Fraction(risk.Launch)} ready by launch.";
        if (risk.Launch.Held < risk.Launch.Runs)
            yield return "The simulation never re-plans, so a low figure means little slack. Work that no longer fits its "
                + "night is put off as the rules allow. Work put off beyond the launch counts as a missed launch.";
        if (risk.Launch.Held < risk.Launch.Runs && risk.WithGrace.Count > 0)
            yield return "If work were permitted to end later than the rules allow, this many simulated weeks would be "
                + $"ready by launch: {Graces(risk.WithGrace)}. The lead decides, within local law, whether to permit this. "
                + "It is never permitted for people under 18.";
        if (risk.Helps?.Best is [var best, ..])
            yield return $"The change that helps most: {best.Sentence} A new plan then holds {Holds(best.Reached)}.";
        if (risk.Done.Held < risk.Done.Runs)
            yield return $"Some planned work is not done by the end of the last night {Share(risk.Done.Complement())}.";
        if (risk.Secured.Held < risk.Secured.Runs)
            yield return $"Where {NightsEnd(risk)}, nothing is left half-secured for a morning {Share(risk.Secured)}.";
        if (risk.StintsPutOff > 0)
            yield return $"On average, {Number(risk.StintsPutOff)} pieces of work are put off to a later night.";
        // If several quantiles have the same time, only the highest is shown.
        string[] ends =
        [
            .. new (int Runs, OffsetDateTime? By)[]
                { (10, risk.Finish.P10), (50, risk.Finish.P50), (80, risk.Finish.P80), (90, risk.Finish.P90) }
                .Where(end => end.By is not null).GroupBy(end => DayTime(end.By!.Value))
                .Select(group => $"by {group.Key} in {group.Max(end => end.Runs)}"),
        ];
        if (ends.Length > 0) yield return $"All work ends {string.Join(", ", ends)} of 100 simulated weeks.";
    }

    private static string NightsEnd(RiskReport risk) => risk.GraceMinutes == 0 ? "no night may run over"
        : $"a night may run over by {GoalLabels.Length(risk.GraceMinutes)}";

    /// <summary>The changes that would help; empty if the report was made without looking for them.</summary>
    public IEnumerable<string> Helps(RiskReport risk)
    {
        if (risk.Helps is not { } helps) yield break;
        if (helps.Securing is { } securing) yield return Secures(securing);
        if (helps.AlreadyReached)
        {
            yield return $"The plan holds as often as asked ({helps.TargetPercent} %), so no change was tried to raise that.";
            yield break;
        }
        if (helps.Replanned is { } replanned)
            yield return $"Planned again as it is, the week holds {Holds(replanned)}."
                + (replanned.Holds.Share * 100 < helps.TargetPercent ? ""
                    : $" That is at least the {helps.TargetPercent} % asked for: request a new plan. No change was tried.");
        if (helps.Best.Count == 0 && helps.Tried > 0)
            yield return $"{(helps.Tried == 1 ? "1 change was" : $"{helps.Tried} changes were")} tried, "
                + $"{helps.Others.Count(change => change.PlannedAnew)} of them with a new plan. No new plan holds more often "
                + "than that of the week as it is.";
        foreach (var change in helps.Best) yield return $"{change.Sentence} A new plan then holds {Holds(change.Reached)}.";
        if (helps.WithBoth is { } both) yield return $"With both changes, a new plan holds {Holds(both)}.";
        if (helps.Others.Where(change => change.PlannedAnew).ToArray() is { Length: > 0 } planned)
            yield return $"Also tried with a new plan: {WithChances(planned)}";
        if (helps.Others.Where(change => !change.PlannedAnew).ToArray() is [var first, ..] screened)
            yield return $"Tried in the plan as it is, which holds in {ChanceSentences.Percent(first.HoldsWithout)} of "
                + $"{Count(first.Holds.Runs)} simulated weeks, and not planned again: {WithChances([first, .. screened])}";
        if (helps.Untried.Count > 0)
            yield return "Not tried, because the time ran out: "
                + $"{string.Join(" ", helps.Untried.Select(change => change.Sentence))}";
    }

    /// <summary>What would help the chain that is left half-secured too often, or that nothing tried does.</summary>
    public string Secures(SecuringAdvice advice)
    {
        var replanned = $"{ChanceSentences.Percent(advice.Replanned.Secured)} of "
            + $"{Count(advice.Replanned.Secured.Runs)} simulated weeks "
            + $"(95 % interval: {ChanceSentences.Interval(advice.Replanned.Secured)})";
        if (advice.Replanned.Secured.Share * 100 >= advice.TargetPercent)
            return $"Planned again as it is, the week leaves nothing half-secured in {replanned}: request a new plan.";
        var others = advice.Others.Count == 0 ? "" : " Also tried: " + string.Join(" ", advice.Others.Select(move =>
            $"{move.Sentence} ({(move.Reached is { } got ? ChanceSentences.Percent(got.Secured) : "no plan found")})"));
        return advice.Best is { Reached: { } reached } best
            ? $"To leave nothing half-secured: {best.Sentence} A new plan then leaves nothing half-secured in "
                + $"{ChanceSentences.Percent(reached.Secured)} (95 % interval: {ChanceSentences.Interval(reached.Secured)}), for "
                + $"{Money.Of(reached.Cost, week.Currency)} in wages. Without it, a new plan does so in {replanned}.{others}"
            : $"No move that was tried for “{words.TaskName(advice.Task)}” and “{words.TaskName(advice.Next)}” leaves nothing "
                + $"half-secured more often than a new plan of the week as it is, in {replanned}.{others}";
    }

    private static string WithChances(IEnumerable<TriedMitigation> tried) =>
        string.Join(" ", tried.Select(change => $"{change.Sentence} ({ChanceSentences.Percent(change.Holds)})"));

    /// <summary>"in 81.2 % of 10,000 simulated weeks (95 % interval: 80.4 to 82.0 %), for £1,234.50 in wages".</summary>
    private string Holds(ReplannedWeek reached) =>
        $"in {ChanceSentences.Percent(reached.Holds)} of {Count(reached.Holds.Runs)} simulated weeks "
        + $"(95 % interval: {ChanceSentences.Interval(reached.Holds)}), for {Money.Of(reached.Cost, week.Currency)} in wages";

    /// <summary>The tasks that drive the risk, in order of falling influence.</summary>
    public static IReadOnlyList<TaskRisk> Drivers(RiskReport risk) =>
        [.. risk.Tasks.Where(task => task.Criticality + task.NightCriticality + task.PutOff > 0).Take(MostDrivers)];

    public static string Caution(RiskReport risk) =>
        $"{Count(risk.Runs)} simulated weeks, seed {risk.Seed}; the duration of "
        + $"{(risk.UncertainTasks == 1 ? "1 task is" : $"{risk.UncertainTasks} tasks is")} uncertain. "
        + "Work keeps the order of the plan. The result is only as good as the estimates of the durations, and no promise: late "
        + "kits, illness and wrong estimates are not simulated.";

    public string Night(string id) => words.Night(id) is { } window ? WeekLabels.Day(window.Opens) : id;

    public string Task(string id) => words.TaskName(id);

    /// <summary>"in 93 of 100 simulated weeks (±0.5)". The error is one standard error of the simulation.</summary>
    private static string Share(EstimatedProbability probability) => probability switch
    {
        { Held: 0 } => $"in none of {Count(probability.Runs)} simulated weeks",
        _ when probability.Held == probability.Runs => $"in all {Count(probability.Runs)} simulated weeks",
        _ => $"in {OfHundred(probability.Share)} of 100 simulated weeks ({Error(probability)})",
    };

    /// <summary>"93 of 100 (±0.5) were": the subject and verb of a sentence about the simulated weeks.</summary>
    private static string Fraction(EstimatedProbability probability) => probability switch
    {
        { Held: 0 } => "none was",
        _ when probability.Held == probability.Runs => "all were",
        _ => $"{OfHundred(probability.Share)} of 100 ({Error(probability)}) were",
    };

    private static string Error(EstimatedProbability probability) =>
        string.Create(CultureInfo.InvariantCulture, $"±{100 * probability.StandardError:0.0#}");

    /// <summary>A percentage without decimals, except below 1 and above 99, where rounding would suggest certainty.</summary>
    public static string OfHundred(double share) => (100 * share) switch
    {
        > 0 and < 1 or > 99 and < 100 => (100 * share).ToString("0.0#", CultureInfo.InvariantCulture),
        var percent => percent.ToString("0", CultureInfo.InvariantCulture),
    };

    public static string Time(OffsetDateTime? time) => time is { } known ? WeekLabels.Time(known.LocalDateTime) : "";

    /// <summary>Empty for less than 0.05 minutes.</summary>
    public static string Minutes(double minutes) => minutes < 0.05 ? "" : $"{Number(minutes)} min";

    /// <summary>Empty for a correlation below 0.05 in size.</summary>
    public static string Correlation(double value) =>
        Math.Abs(value) < 0.05 ? "" : value.ToString("0.00", CultureInfo.InvariantCulture);

    /// <summary>"20 of 100 with 15 min, 75 of 100 with 30 min".</summary>
    private static string Graces(IEnumerable<GraceRisk> graces) =>
        string.Join(", ", graces.Select(grace => $"{OfHundred(grace.Launch.Share)} of 100 with {grace.Minutes} min"));

    private static string DayTime(OffsetDateTime time) =>
        $"{time.LocalDateTime.ToString("ddd d MMM", CultureInfo.InvariantCulture)} {WeekLabels.Time(time.LocalDateTime)}";

    private static string Count(int number) => number.ToString("N0", CultureInfo.InvariantCulture);

    private static string Number(double value) => value.ToString("0.0", CultureInfo.InvariantCulture);
}
