using System.Globalization;
using SetWeek.Scheduling.Risks;

namespace SetWeek.Service.Commands;

/// <summary>Chances as people say them, and the words in which a risk is asked for.</summary>
internal static class RiskWords
{
    /// <summary>Null: no such.</summary>
    public static Spreading? Spreading(string word) => word switch
    {
        "beta" => Scheduling.Risks.Spreading.Beta,
        "triangular" => Scheduling.Risks.Spreading.Triangular,
        _ => null,
    };

    /// <summary>Null where the text is not two percentages, the first at most 100 and the second at least.</summary>
    public static DefaultSpread? Spread(string text) => text.Split('-') is [var best, var worst]
        && int.TryParse(best, NumberStyles.None, CultureInfo.InvariantCulture, out var optimistic) && optimistic <= 100
        && int.TryParse(worst, NumberStyles.None, CultureInfo.InvariantCulture, out var pessimistic) && pessimistic is >= 100 and <= 1000
            ? new DefaultSpread(optimistic, pessimistic) : null;

    public static string SpreadForm(string name) =>
        $"{name} takes percent at best and at worst, as 80-160: the first at most 100, the second from 100 to 1000.";

    /// <summary>"in 93 of 100 runs (±0.5)"; the error is Monte Carlo's, one standard error.</summary>
    public static string Of(Chance chance) => chance switch
    {
        { Held: 0 } => $"in none of {Count(chance.Runs)} runs",
        _ when chance.Held == chance.Runs => $"in all {Count(chance.Runs)} runs",
        _ => $"in {Hundredths(chance.Share)} of 100 runs (±{(100 * chance.StandardError).ToString("0.0#", CultureInfo.InvariantCulture)})",
    };

    /// <summary>In percent, whole where nothing is hidden by that.</summary>
    public static string Hundredths(double share) => (100 * share) switch
    {
        > 0 and < 1 or > 99 and < 100 => (100 * share).ToString("0.0#", CultureInfo.InvariantCulture),
        var hundredths => hundredths.ToString("0", CultureInfo.InvariantCulture),
    };

    public static string Count(int number) => number.ToString("N0", CultureInfo.InvariantCulture);
}
