using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Bench.Instances;

/// <summary>
/// A project of the scheduling literature as a week: one night, long enough for everything in a row, on a grid of a minute,
/// without rules, to finish as early as can be. So the whole planner is measured, by no side door.
/// </summary>
public static class ProjectWeek
{
    private static readonly LocalDateTime Opens = new(2027, 1, 4, 0, 0);

    /// <summary>
    /// Pieces of work: minutes may be 0, which a week has no task for; what follows such a piece follows what it follows.
    /// </summary>
    public sealed record ProjectActivity(string Id, int Minutes,
        IReadOnlyList<SkillRequirement> Roles, IReadOnlyList<EquipmentUse> Equipment, IReadOnlyList<string> After);

    public static Week Of(string name,
        IReadOnlyList<ProjectActivity> pieces, IReadOnlyList<CrewMember> crew, IReadOnlyList<Equipment> equipment)
    {
        var closes = Opens.PlusMinutes(Math.Max(1, pieces.Sum(piece => piece.Minutes)));
        var byId = pieces.ToDictionary(piece => piece.Id);
        return new Week
        {
            Id = name,
            Currency = "EUR",
            GridMinutes = 1,
            Launch = closes,
            Store = new Store { Id = "literature", TimeZone = "Etc/UTC", Zones = [new("zone", "Zone")], Equipment = equipment },
            Nights = [new("night", Opens, closes)],
            Crew = crew,
            Displays = [new("project", name, DisplayCommitment.Must)],
            Tasks = [.. pieces.Where(piece => piece.Minutes > 0).Select(piece => new WeekTask
            {
                Id = piece.Id, Name = piece.Id, Display = "project", Zone = "zone",
                Modes = [new(piece.Minutes, piece.Roles) { Equipment = piece.Equipment }],
                After = [.. Timed(piece).Distinct().Select(task => new TaskPrecedence(task))],
            })],
            Rules = new RuleSet(),
            Goals = [new(GoalId.Finish)],
        };

        IEnumerable<string> Timed(ProjectActivity piece) =>
            piece.After.SelectMany(before => byId[before].Minutes > 0 ? [before] : Timed(byId[before]));
    }

    public static CrewMember Worker(string id, IReadOnlyDictionary<string, int> skills) =>
        new() { Id = id, Name = id, Skills = skills, RatePerHour = 0, Available = [new("night")] };
}
