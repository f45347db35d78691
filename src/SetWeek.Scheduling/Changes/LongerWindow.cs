using System.Text.Json;
using NodaTime;
using SetWeek.Scheduling.Files;

namespace SetWeek.Scheduling.Changes;

/// <summary>A night that opens or closes at another time; what is null stays as it is.</summary>
public sealed record LongerWindow(string Night, LocalDateTime? Opens = null, LocalDateTime? Closes = null) : WeekChange
{
    public const string Name = "window";

    public override string Kind => Name;

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
            Opens is { } opens ? $"opens at {Clock.Of(opens)} instead of {Clock.Of(night.Opens)}" : null,
            Closes is { } closes ? $"closes at {Clock.Of(closes)} instead of {Clock.Of(night.Closes)}" : null,
        ];
        return $"{Night} {string.Join(" and ", parts.OfType<string>().DefaultIfEmpty("stays as it is"))}.";
    }

    internal static WeekChange Read(JsonFields at) =>
        new LongerWindow(at.Id("night"), at.OptionalLocalTime("opens"), at.OptionalLocalTime("closes"));

    internal override void Write(Utf8JsonWriter json)
    {
        json.Text("night", Night);
        json.Time("opens", Opens);
        json.Time("closes", Closes);
    }

    internal override IEnumerable<Fault?> Faults(WeekIds known) => [known.Nights.Fault("/night", Night)];
}
