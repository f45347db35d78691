using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>
/// One more person in a night, with a skill: a colleague from the next store, somebody who gives up a night off.
/// </summary>
/// <param name="Night">The only night that they can come, for the whole of it.</param>
/// <param name="Skill">The only skill that is counted on.</param>
/// <param name="Level">1 to 3.</param>
/// <param name="Keyholder">They have the keys as well.</param>
public sealed record ExtraPerson(string Night, string Skill, int Level = 1, bool Keyholder = false) : WeekChange
{
    public const string KindName = "personNight";

    public override string Kind => KindName;

    /// <summary>
    /// Nobody knows yet who it will be: they are paid like the best paid of the crew who could do the same, or like the best
    /// paid of all, so that no plan looks cheaper than it will be.
    /// </summary>
    public override Week Apply(Week week)
    {
        var alike = week.Crew.Where(member => member.Skills.GetValueOrDefault(Skill) >= Level && (member.Keyholder || !Keyholder))
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
                    RatePerHour = alike.Max(member => member?.RatePerHour ?? 0),
                    Available = [new(Night)],
                },
            ],
        };
    }

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

    private static string FreeId(Week week) => Enumerable.Range(1, week.Crew.Count + 1).Select(number => $"one-more.{number}")
        .First(id => week.Crew.All(member => member.Id != id));
}
