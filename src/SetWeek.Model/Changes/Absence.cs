using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>
/// A person cannot come in one night: the person's availability for it is removed, and with it what is pinned of them there.
/// </summary>
/// <param name="Person">Id of the person.</param>
/// <param name="Night">Id of the night.</param>
public sealed record Absence(string Person, string Night) : WeekChange
{
    /// <summary>The value of "kind" in JSON.</summary>
    public const string KindName = "absence";

    /// <inheritdoc/>
    public override string Kind => KindName;

    /// <inheritdoc/>
    public override Week Apply(Week week) => week with
    {
        Crew = [.. week.Crew.Select(member => member.Id != Person ? member
            : member with { Available = [.. member.Available.Where(entry => entry.Night != Night)] })],
        Pins = [.. week.Pins.Select(pin => pin.Without(Person, Night)).OfType<Pin>()],
    };

    /// <inheritdoc/>
    public override string Sentence(Week week) =>
        $"{week.Crew.First(member => member.Id == Person).Name} cannot come in {WeekPhrases.Night(week, Night)}.";

    internal static WeekChange Read(JsonFields at) => new Absence(at.Id("person"), at.Id("night"));

    internal override void Write(Utf8JsonWriter json)
    {
        json.Text("person", Person);
        json.Text("night", Night);
    }

    internal override IEnumerable<Fault?> Faults(WeekIds known) =>
        [known.Crew.UnknownIdFault("/person", Person), known.Nights.UnknownIdFault("/night", Night)];
}
