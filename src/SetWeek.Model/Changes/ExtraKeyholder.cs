using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>One more keyholder is in the store in one night, for example the manager of another store.</summary>
/// <param name="Night">Id of the night, for the whole of which the person is available.</param>
public sealed record ExtraKeyholder(string Night) : WeekChange
{
    /// <summary>The value of "kind" in JSON.</summary>
    public const string KindName = "keyholder";

    /// <inheritdoc/>
    public override string Kind => KindName;

    /// <inheritdoc/>
    /// <remarks>
    /// The person opens, closes and is present, and has no skill. As with <see cref="ExtraPerson"/>, the rate is an upper
    /// estimate: the highest rate among the keyholders, or else among all the crew.
    /// </remarks>
    public override Week Apply(Week week) => week with
    {
        Crew =
        [
            .. week.Crew,
            new CrewMember
            {
                Id = ExtraPerson.FreeId(week),
                Name = "One more keyholder",
                Skills = new Dictionary<string, int>(StringComparer.Ordinal),
                Keyholder = true,
                RatePerHour = week.Crew.Where(member => member.Keyholder)
                    .DefaultIfEmpty(week.Crew.MaxBy(member => member.RatePerHour)).Max(member => member?.RatePerHour ?? 0),
                Available = [new(Night)],
            },
        ],
    };

    /// <inheritdoc/>
    public override string Sentence(Week week) => $"One more keyholder in {WeekPhrases.Night(week, Night)}.";

    internal static WeekChange Read(JsonFields at) => new ExtraKeyholder(at.Id("night"));

    internal override void Write(Utf8JsonWriter json) => json.Text("night", Night);

    internal override IEnumerable<Fault?> Faults(WeekIds known) => [known.Nights.UnknownIdFault("/night", Night)];
}
