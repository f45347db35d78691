using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>Somebody who cannot come in a night.</summary>
public sealed record Absence(string Person, string Night) : WeekChange
{
    public const string KindName = "absence";

    public override string Kind => KindName;

    public override Week Apply(Week week) => week with
    {
        Crew = [.. week.Crew.Select(member => member.Id != Person ? member
            : member with { Available = [.. member.Available.Where(entry => entry.Night != Night)] })],
    };

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
