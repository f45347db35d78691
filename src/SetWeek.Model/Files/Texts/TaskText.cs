using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Texts;

/// <summary>A task as it stands in the file of its week.</summary>
internal static class TaskText
{
    public static void Task(Utf8JsonWriter json, SetTask task) => json.Object(() =>
    {
        json.Text("id", task.Id);
        json.Text("name", task.Name);
        json.Text("display", task.Display);
        json.Text("zone", task.Zone);
        json.List("modes", task.Modes, mode => json.Object(() =>
        {
            json.Number("minutes", mode.Minutes);
            Roles(json, mode.Roles);
            json.ListUnlessEmpty("equipment", mode.Equipment, use => json.Object(() =>
            {
                json.Text("id", use.Id);
                json.Number("count", use.Count);
            }));
        }));
        json.NumberUnless("stints", task.Stints, usual: 1);
        json.ListUnlessEmpty("after", task.After, after => json.Object(() =>
        {
            json.Text("task", after.Task);
            json.NumberUnless("dryMinutes", after.DryMinutes, usual: 0);
            json.Flag("sameNight", after.SameNight);
        }));
        json.ListUnlessEmpty("needs", task.Needs, need => json.Object(() =>
        {
            json.Text("kit", need.Kit);
            json.Text("item", need.Item);
            json.NumberUnless("count", need.Count, usual: 1);
        }));
        json.ListUnlessEmpty("traits", task.Traits, json.WriteStringValue);
        json.Text("due", task.Due);
        json.Flag("last", task.Last);
        json.NumberUnless("closesZoneMinutes", task.ClosesZoneMinutes, usual: 0);
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

    public static void Roles(Utf8JsonWriter json, IReadOnlyList<Role> roles) =>
        json.List("roles", roles, role => json.Object(() =>
    {
        json.Text("skill", role.Skill);
        json.NumberUnless("level", role.Level, usual: 1);
        json.Number("people", role.People);
    }));
}
