using System.Globalization;
using SetWeek.Planning.Risk.Distributions;

namespace SetWeek.Service.Words;

/// <summary>The words in which a risk is asked for, on the command line and in an address.</summary>
public static class RiskParameters
{
    /// <summary>Null: no such.</summary>
    public static DurationDistribution? Spreading(string word) => word switch
    {
        "beta" => Planning.Risk.Distributions.DurationDistribution.Beta,
        "triangular" => Planning.Risk.Distributions.DurationDistribution.Triangular,
        _ => null,
    };

    /// <summary>"80-160": percent at best, at most 100, and at worst, at least. Null where it is not that.</summary>
    public static DefaultSpread? Spread(string text) => text.Split('-') is [var best, var worst]
        && Number(best, 0, 100) is { } optimistic && Number(worst, 100, 1000) is { } pessimistic
            ? new DefaultSpread(optimistic, pessimistic) : null;

    public static string SpreadForm(string name) =>
        $"{name} takes percent at best and at worst, as 80-160: the first at most 100, the second from 100 to 1000.";

    /// <summary>Null where it is no whole number, or out of bounds.</summary>
    public static int? Number(string text, int least, int most) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= least && number <= most
            ? number : null;
}
