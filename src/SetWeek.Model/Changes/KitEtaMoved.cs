using System.Text.Json;
using NodaTime;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>A kit that comes at another time; null: nobody knows when.</summary>
public sealed record KitEtaMoved(string Kit, LocalDateTime? Eta) : WeekChange
{
    public const string KindName = "kit";

    public override string Kind => KindName;

    public override Week Apply(Week week) => week with
    {
        Kits = [.. week.Kits.Select(kit => kit.Id == Kit ? kit with { Eta = Eta } : kit)],
    };

    public override string Sentence(Week week)
    {
        var name = week.Kits.First(kit => kit.Id == Kit).Name;
        return Eta is { } eta ? $"The kit “{name}” is in by {WeekPhrases.Time(eta)}." : $"Nobody knows when the kit “{name}” comes.";
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
