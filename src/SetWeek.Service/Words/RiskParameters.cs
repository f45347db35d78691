using System.Globalization;
using SetWeek.Model.Durations;

namespace SetWeek.Service.Words;

/// <summary>Parses the parameters of a risk simulation, for the command line and the HTTP API.</summary>
public static class RiskParameters
{
    /// <returns>Null if no distribution has that name.</returns>
    public static DurationDistribution? Spreading(string word) => word switch
    {
        "beta" => DurationDistribution.Beta,
        "triangular" => DurationDistribution.Triangular,
        _ => null,
    };

    /// <summary>Parses "80-160": the shortest and longest duration in percent of the planned one.</summary>
    /// <returns>Null unless the first is 0 to 100 and the second 100 to 1000.</returns>
    public static DefaultSpread? Spread(string text) => text.Split('-') is [var shortest, var longest]
        && Number(shortest, 0, 100) is { } optimistic && Number(longest, 100, 1000) is { } pessimistic
            ? new DefaultSpread(optimistic, pessimistic) : null;

    public static string SpreadForm(string name) =>
        $"{name} needs two percentages, for example 80-160: the first from 0 to 100, the second from 100 to 1000.";

    /// <returns>Null unless the text is a whole number from min to max.</returns>
    public static int? Number(string text, int min, int max) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= min && number <= max
            ? number : null;
}
