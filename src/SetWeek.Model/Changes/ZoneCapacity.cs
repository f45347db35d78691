using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>A zone has room for another number of people at work at once.</summary>
/// <param name="Zone">Id of the zone.</param>
/// <param name="MaxPeople">Largest number of people at once.</param>
public sealed record ZoneCapacity(string Zone, int MaxPeople) : WeekChange
{
    /// <summary>The value of "kind" in JSON.</summary>
    public const string KindName = "room";

    /// <inheritdoc/>
    public override string Kind => KindName;

    /// <inheritdoc/>
    public override Week Apply(Week week) => week with
    {
        Store = week.Store with
        {
            Zones = [.. week.Store.Zones.Select(zone => zone.Id == Zone ? zone with { MaxPeople = MaxPeople } : zone)],
        },
    };

    /// <inheritdoc/>
    public override string Sentence(Week week) =>
        $"{week.Store.Zones.First(zone => zone.Id == Zone).Name} has room for {WeekPhrases.People(MaxPeople)} at work at once.";

    internal static WeekChange Read(JsonFields at) => new ZoneCapacity(at.Id("zone"), at.Int("maxPeople", 1, 1000));

    internal override void Write(Utf8JsonWriter json)
    {
        json.Text("zone", Zone);
        json.Number("maxPeople", MaxPeople);
    }

    internal override IEnumerable<Fault?> Faults(WeekIds known) => [known.Zones.UnknownIdFault("/zone", Zone)];
}
