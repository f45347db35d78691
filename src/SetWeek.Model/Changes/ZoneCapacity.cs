using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>A zone that takes another number of people at work at once: something is moved out of the way, or into it.</summary>
public sealed record ZoneCapacity(string Zone, int MaxPeople) : WeekChange
{
    public const string KindName = "room";

    public override string Kind => KindName;

    public override Week Apply(Week week) => week with
    {
        Store = week.Store with
        {
            Zones = [.. week.Store.Zones.Select(zone => zone.Id == Zone ? zone with { MaxPeople = MaxPeople } : zone)],
        },
    };

    public override string Sentence(Week week) =>
        $"{week.Store.Zones.First(zone => zone.Id == Zone).Name} takes {WeekPhrases.People(MaxPeople)} at work at once.";

    internal static WeekChange Read(JsonFields at) => new ZoneCapacity(at.Id("zone"), at.Int("maxPeople", 1, 1000));

    internal override void Write(Utf8JsonWriter json)
    {
        json.Text("zone", Zone);
        json.Number("maxPeople", MaxPeople);
    }

    internal override IEnumerable<Fault?> Faults(WeekIds known) => [known.Zones.UnknownIdFault("/zone", Zone)];
}
