using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>
/// One more person is available in one night, for example a colleague from another store.
/// </summary>
/// <param name="Night">Id of the night, for the whole of which the person is available.</param>
/// <param name="Skill">The only skill that the person is assumed to have.</param>
/// <param name="Level">Level of the skill, 1 to 3.</param>
/// <param name="Keyholder">True if the person is a keyholder.</param>
public sealed record ExtraPerson(string Night, string Skill, int Level = 1, bool Keyholder = false) : WeekChange
{
    /// <summary>The value of "kind" in JSON.</summary>
    public const string KindName = "personNight";

    /// <inheritdoc/>
    public override string Kind => KindName;

    /// <inheritdoc/>
    /// <remarks>
    /// The person is not known yet, so the rate is an upper estimate: the highest rate among the crew with the same skill,
    /// level and keys, or else among all the crew. Plans then do not look cheaper than they will be.
    /// </remarks>
    public override Week Apply(Week week)
    {
        var comparable = week.Crew
            .Where(member => member.Skills.GetValueOrDefault(Skill) >= Level && (member.Keyholder || !Keyholder))
            .DefaultIfEmpty(week.Crew.MaxBy(member => member.RatePerHour));
        return week with
        {
            Crew =
            [
                .. week.Crew,
                new CrewMember
                {
                    Id = FreeId(week),
                    Name = "One more",
                    Skills = new Dictionary<string, int>(StringComparer.Ordinal) { [Skill] = Level },
                    Keyholder = Keyholder,
                    RatePerHour = comparable.Max(member => member?.RatePerHour ?? 0),
                    Available = [new(Night)],
                },
            ],
        };
    }

    /// <inheritdoc/>
    public override string Sentence(Week week) =>
        $"One more person with “{Skill}”{(Level > 1 ? $" at level {Level}" : "")}{(Keyholder ? " and the keys" : "")} in "
            + $"{WeekPhrases.Night(week, Night)}.";

    internal static WeekChange Read(JsonFields at) =>
        new ExtraPerson(at.Id("night"), at.Word("skill"), at.Int("level", 1, 3), at.Flag("keyholder"));

    internal override void Write(Utf8JsonWriter json)
    {
        json.Text("night", Night);
        json.Text("skill", Skill);
        json.Number("level", Level);
        json.Flag("keyholder", Keyholder);
    }

    internal override IEnumerable<Fault?> Faults(WeekIds known) =>
        [known.Nights.UnknownIdFault("/night", Night), known.Skills.UnknownIdFault("/skill", Skill)];

    /// <summary>An id that nobody in the crew has.</summary>
    internal static string FreeId(Week week) => Enumerable.Range(1, week.Crew.Count + 1).Select(number => $"one-more.{number}")
        .First(id => week.Crew.All(member => member.Id != id));
}
