using System.Text.Json;
using NodaTime;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>A night opens or closes at another time.</summary>
/// <param name="Night">Id of the night.</param>
/// <param name="Opens">Store-local start; null means unchanged.</param>
/// <param name="Closes">Store-local end; null means unchanged.</param>
public sealed record NightWindowMoved(string Night, LocalDateTime? Opens = null, LocalDateTime? Closes = null) : WeekChange
{
    /// <summary>The value of "kind" in JSON.</summary>
    public const string KindName = "window";

    /// <inheritdoc/>
    public override string Kind => KindName;

    /// <inheritdoc/>
    public override Week Apply(Week week) => week with
    {
        Nights = [.. week.Nights.Select(night => night.Id != Night ? night
            : night with { Opens = Opens ?? night.Opens, Closes = Closes ?? night.Closes })],
    };

    /// <inheritdoc/>
    public override string Sentence(Week week)
    {
        var night = week.Nights.First(night => night.Id == Night);
        string?[] parts =
        [
            Opens is { } opens ? $"opens at {Clock(opens, night.Opens)}" : null,
            Closes is { } closes ? $"closes at {Clock(closes, night.Closes)}" : null,
        ];
        return $"{WeekPhrases.CapitalisedNight(week, Night)} "
            + $"{string.Join(" and ", parts.OfType<string>().DefaultIfEmpty("stays as it is"))}.";
    }

    /// <summary>"23:00 instead of 21:15", with the date if the day changes.</summary>
    private static string Clock(LocalDateTime now, LocalDateTime was) =>
        $"{(now.Date == was.Date ? WeekPhrases.Clock(now) : WeekPhrases.Time(now))} instead of {WeekPhrases.Clock(was)}";

    internal static WeekChange Read(JsonFields at) =>
        new NightWindowMoved(at.Id("night"), at.OptionalLocalTime("opens"), at.OptionalLocalTime("closes"));

    internal override void Write(Utf8JsonWriter json)
    {
        json.Text("night", Night);
        json.Time("opens", Opens);
        json.Time("closes", Closes);
    }

    internal override IEnumerable<Fault?> Faults(WeekIds known) => [known.Nights.UnknownIdFault("/night", Night)];
}
