using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>The store has another number of pieces of some equipment, for example because a ladder is borrowed.</summary>
/// <param name="Equipment">Id of the equipment.</param>
/// <param name="Count">Number of pieces that the store then has.</param>
public sealed record EquipmentCount(string Equipment, int Count) : WeekChange
{
    /// <summary>The value of "kind" in JSON.</summary>
    public const string KindName = "equipment";

    /// <inheritdoc/>
    public override string Kind => KindName;

    /// <inheritdoc/>
    public override Week Apply(Week week) => week with
    {
        Store = week.Store with
        {
            Equipment = [.. week.Store.Equipment.Select(item => item.Id == Equipment ? item with { Count = Count } : item)],
        },
    };

    /// <inheritdoc/>
    public override string Sentence(Week week) => $"The store has {Count} of “{Equipment}”.";

    internal static WeekChange Read(JsonFields at) =>
        new EquipmentCount(at.Id("equipment"), at.Int("count", 0, WeekLimits.Pieces));

    internal override void Write(Utf8JsonWriter json)
    {
        json.Text("equipment", Equipment);
        json.Number("count", Count);
    }

    internal override IEnumerable<Fault?> Faults(WeekIds known) => [known.Equipment.UnknownIdFault("/equipment", Equipment)];
}
