using System.Text.Json;
using NodaTime;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>A kit arrives at another time.</summary>
/// <param name="Kit">Id of the kit.</param>
/// <param name="Eta">Store-local arrival; null means unknown.</param>
public sealed record KitEtaMoved(string Kit, LocalDateTime? Eta) : WeekChange
{
    /// <summary>The value of "kind" in JSON.</summary>
    public const string KindName = "kit";

    /// <inheritdoc/>
    public override string Kind => KindName;

    /// <inheritdoc/>
    public override Week Apply(Week week) => week with
    {
        Kits = [.. week.Kits.Select(kit => kit.Id == Kit ? kit with { Eta = Eta } : kit)],
    };

    /// <inheritdoc/>
    public override string Sentence(Week week)
    {
        var name = week.Kits.First(kit => kit.Id == Kit).Name;
        return Eta is { } eta ? $"The kit “{name}” arrives by {WeekPhrases.Time(eta)}."
            : $"The arrival of the kit “{name}” is unknown.";
    }

    internal static WeekChange Read(JsonFields at) => new KitEtaMoved(at.Id("kit"), at.NullableLocalTime("eta"));

    internal override void Write(Utf8JsonWriter json)
    {
        json.Text("kit", Kit);
        if (Eta is null) json.WriteNull("eta");
        else json.Time("eta", Eta);
    }

    internal override IEnumerable<Fault?> Faults(WeekIds known) => [known.Kits.UnknownIdFault("/kit", Kit)];
}
