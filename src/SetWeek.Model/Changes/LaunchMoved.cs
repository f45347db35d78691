using System.Text.Json;
using NodaTime;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>Another time by which everything stands.</summary>
public sealed record LaunchMoved(LocalDateTime Launch) : WeekChange
{
    public const string KindName = "launch";

    public override string Kind => KindName;

    public override Week Apply(Week week) => week with { Launch = Launch };

    public override string Sentence(Week week) => $"Everything stands by {WeekPhrases.Time(Launch)}.";

    internal static WeekChange Read(JsonFields at) => new LaunchMoved(at.LocalTime("launch"));

    internal override void Write(Utf8JsonWriter json) => json.Time("launch", Launch);

    internal override IEnumerable<Fault?> Faults(WeekIds known) => [];
}
