using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Texts;

/// <summary>Writes a task as it appears in a week file.</summary>
internal static class TaskWriter
{
    public static void Task(Utf8JsonWriter json, WeekTask task) => json.Object(() =>
    {
        json.Text("id", task.Id);
        json.Text("name", task.Name);
        json.Text("display", task.Display);
        json.Text("zone", task.Zone);
        json.List("modes", task.Modes, mode => json.Object(() =>
        {
            json.Number("minutes", mode.Minutes);
            SkillRequirements(json, mode.Roles);
            json.ListUnlessEmpty("equipment", mode.Equipment, use => json.Object(() =>
            {
                json.Text("id", use.Id);
                json.Number("count", use.Count);
            }));
        }));
        json.NumberUnlessDefault("stints", task.Stints, defaultValue: 1);
        json.ListUnlessEmpty("after", task.After, precedence => json.Object(() =>
        {
            json.Text("task", precedence.Task);
            json.NumberUnlessDefault("dryMinutes", precedence.DryMinutes, defaultValue: 0);
            json.Flag("sameNight", precedence.SameNight);
        }));
        json.ListUnlessEmpty("needs", task.Needs, need => json.Object(() =>
        {
            json.Text("kit", need.Kit);
            json.Text("item", need.Item);
            json.NumberUnlessDefault("count", need.Count, defaultValue: 1);
        }));
        json.ListUnlessEmpty("traits", task.Traits, json.WriteStringValue);
        json.Text("due", task.Due);
        json.Flag("last", task.Last);
        json.Flag("empties", task.Empties);
        json.Flag("fills", task.Fills);
        json.NumberUnlessDefault("closesZoneMinutes", task.ClosesZoneMinutes, defaultValue: 0);
        if (task.Estimate is { } estimate)
            json.Object("estimate", () =>
            {
                json.Number("optimistic", estimate.Optimistic);
                json.Number("pessimistic", estimate.Pessimistic);
            });
        json.ListUnlessEmpty("checks", task.Checks, json.WriteStringValue);
        json.ListUnlessEmpty("steps", task.Steps, json.WriteStringValue);
        json.ListUnlessEmpty("cautions", task.Cautions, json.WriteStringValue);
    });

    public static void SkillRequirements(Utf8JsonWriter json, IReadOnlyList<SkillRequirement> roles) =>
        json.List("roles", roles, role => json.Object(() =>
    {
        json.Text("skill", role.Skill);
        json.NumberUnlessDefault("level", role.Level, defaultValue: 1);
        json.Number("people", role.People);
    }));
}
