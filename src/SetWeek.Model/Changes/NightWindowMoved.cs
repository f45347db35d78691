using System.Text.Json;
using NodaTime;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>A night that opens or closes at another time; what is null stays as it is.</summary>
public sealed record NightWindowMoved(string Night, LocalDateTime? Opens = null, LocalDateTime? Closes = null) : WeekChange
{
    public const string KindName = "window";

    public override string Kind => KindName;

    public override Week Apply(Week week) => week with
    {
        Nights = [.. week.Nights.Select(night => night.Id != Night ? night
            : night with { Opens = Opens ?? night.Opens, Closes = Closes ?? night.Closes })],
    };

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

    /// <summary>"23:00 instead of 21:15", with the day where it is another.</summary>
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
