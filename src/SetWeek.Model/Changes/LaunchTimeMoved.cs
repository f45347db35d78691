using System.Text.Json;
using NodaTime;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>The launch is at another time.</summary>
/// <param name="Launch">Store-local time by which everything must be finished.</param>
public sealed record LaunchTimeMoved(LocalDateTime Launch) : WeekChange
{
    /// <summary>The value of "kind" in JSON.</summary>
    public const string KindName = "launch";

    /// <inheritdoc/>
    public override string Kind => KindName;

    /// <inheritdoc/>
    public override Week Apply(Week week) => week with { Launch = Launch };

    /// <inheritdoc/>
    public override string Sentence(Week week) => $"The launch is at {WeekPhrases.Time(Launch)}.";

    internal static WeekChange Read(JsonFields at) => new LaunchTimeMoved(at.LocalTime("launch"));

    internal override void Write(Utf8JsonWriter json) => json.Time("launch", Launch);

    internal override IEnumerable<Fault?> Faults(WeekIds known) => [];
}
