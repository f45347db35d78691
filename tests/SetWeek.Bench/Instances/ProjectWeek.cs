using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Bench.Instances;

/// <summary>
/// A project of the scheduling literature as a week: one night, long enough for all activities in sequence, a grid of one minute,
/// no optional rules, and the goal "finish". So benchmarks measure the planner as it is used for weeks.
/// </summary>
public static class ProjectWeek
{
    private static readonly LocalDateTime Opens = new(2027, 1, 4, 0, 0);

    /// <summary>
    /// An activity of a project. An activity of 0 minutes becomes no task; its successors follow its predecessors.
    /// </summary>
    public sealed record ProjectActivity(string Id, int Minutes,
        IReadOnlyList<SkillRequirement> Roles, IReadOnlyList<EquipmentUse> Equipment, IReadOnlyList<string> After);

    public static Week Of(string name,
        IReadOnlyList<ProjectActivity> activities, IReadOnlyList<CrewMember> crew, IReadOnlyList<Equipment> equipment)
    {
        var closes = Opens.PlusMinutes(Math.Max(1, activities.Sum(activity => activity.Minutes)));
        var byId = activities.ToDictionary(activity => activity.Id);
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
            Tasks = [.. activities.Where(activity => activity.Minutes > 0).Select(activity => new WeekTask
            {
                Id = activity.Id, Name = activity.Id, Display = "project", Zone = "zone",
                Modes = [new(activity.Minutes, activity.Roles) { Equipment = activity.Equipment }],
                After = [.. TimedPredecessors(activity).Distinct().Select(task => new TaskPrecedence(task))],
            })],
            Rules = new RuleSet(),
            Goals = [new(GoalId.Finish)],
        };

        IEnumerable<string> TimedPredecessors(ProjectActivity activity) =>
            activity.After.SelectMany(before => byId[before].Minutes > 0 ? [before] : TimedPredecessors(byId[before]));
    }

    public static CrewMember Worker(string id, IReadOnlyDictionary<string, int> skills) =>
        new() { Id = id, Name = id, Skills = skills, RatePerHour = 0, Available = [new("night")] };
}
