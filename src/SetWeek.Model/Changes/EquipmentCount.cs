using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>Another number of a piece of equipment: a second ladder is borrowed, a lift is out of order.</summary>
public sealed record EquipmentCount(string Equipment, int Count) : WeekChange
{
    public const string KindName = "equipment";

    public override string Kind => KindName;

    public override Week Apply(Week week) => week with
    {
        Store = week.Store with
        {
            Equipment = [.. week.Store.Equipment.Select(piece => piece.Id == Equipment ? piece with { Count = Count } : piece)],
        },
    };

    public override string Sentence(Week week) => $"There are {Count} of “{Equipment}”.";

    internal static WeekChange Read(JsonFields at) =>
        new EquipmentCount(at.Id("equipment"), at.Int("count", 0, WeekLimits.Pieces));

    internal override void Write(Utf8JsonWriter json)
    {
        json.Text("equipment", Equipment);
        json.Number("count", Count);
    }

    internal override IEnumerable<Fault?> Faults(WeekIds known) => [known.Equipment.UnknownIdFault("/equipment", Equipment)];
}
