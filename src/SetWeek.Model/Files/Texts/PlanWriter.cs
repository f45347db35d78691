using System.Text.Json;
using SetWeek.Model.Changes;
using SetWeek.Model.Changes.Format;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Texts;

/// <summary>Writes a plan as the bytes of its file.</summary>
internal static class PlanWriter
{
    public static byte[] Of(Plan plan) => JsonWriterExtensions.Bytes(json => json.Object(() =>
    {
        json.Text("week", plan.Week);
        json.Text("status", JsonNamingPolicy.CamelCase.ConvertName(plan.Status.ToString()));
        json.List("nights", plan.Nights, night => Night(json, night));
        json.List("leftOut", plan.LeftOut, json.WriteStringValue);
        Goals(json, plan.Goals);
        json.ListUnlessEmpty("breaches", plan.Breaches, breach => Breach(json, breach));
        json.ListUnlessEmpty("tight", plan.Tight, breach => Breach(json, breach));
        json.ListUnlessEmpty("conflict", plan.Conflict, breach => Breach(json, breach));
        if (!plan.ConflictSmallest) json.WriteBoolean("conflictSmallest", false);
        json.ListUnlessEmpty("repairs", plan.Repairs, repair => Repair(json, repair));
        json.ListUnlessEmpty("unplaced", plan.Unplaced, breach => Breach(json, breach));
        json.ListUnlessEmpty("notes", plan.Notes, json.WriteStringValue);
    }));

    private static void Night(Utf8JsonWriter json, PlannedNight night) => json.Object(() =>
    {
        json.Text("night", night.Night);
        json.Text("keyholder", night.Keyholder);
        json.List("shifts", night.Shifts, shift => json.Object(() =>
        {
            json.Text("person", shift.Person);
            json.Time("from", shift.From);
            json.Time("to", shift.To);
            if (shift.Break is { } rest)
                json.Object("break", () =>
                {
                    json.Time("from", rest.From);
                    json.Time("to", rest.To);
                });
        }));
        json.List("work", night.Work, work => Work(json, work));
    });

    private static void Work(Utf8JsonWriter json, PlannedWork work) => json.Object(() =>
    {
        json.Text("task", work.Task);
        json.Number("stint", work.Stint);
        json.Number("mode", work.Mode);
        json.Text("cleanDown", work.CleanDown);
        json.Time("from", work.From);
        json.Time("to", work.To);
        json.List("people", work.People, assigned => json.Object(() =>
        {
            json.Text("person", assigned.Person);
            json.Text("skill", assigned.Skill);
        }));
    });

    private static void Goals(Utf8JsonWriter json, IReadOnlyList<GoalValue> goals) =>
        json.List("goals", goals, goal => json.Object(() =>
    {
        json.Text("goal", goal.Goal.Text());
        json.Number("value", goal.Value);
        if (goal.Bound is { } bound) json.WriteNumber("bound", bound);
        else json.WriteNull("bound");
    }));

    private static void Breach(Utf8JsonWriter json, Breach breach) => json.Object(() =>
    {
        json.Text("rule", breach.Rule.Text());
        json.Object("about", () =>
        {
            json.Text("night", breach.About.Night);
            json.Text("person", breach.About.Person);
            json.Text("task", breach.About.Task);
            json.Number("stint", breach.About.Stint);
            json.Text("zone", breach.About.Zone);
            json.Text("kit", breach.About.Kit);
            json.Text("display", breach.About.Display);
            json.Text("skill", breach.About.Skill);
            json.Text("equipment", breach.About.Equipment);
        });
        json.Text("sentence", breach.Sentence);
    });

    private static void Repair(Utf8JsonWriter json, Repair repair) => json.Object(() =>
    {
        Changes(json, repair.Changes, 0);
        Goals(json, repair.Goals);
        json.Text("sentence", repair.Sentence);
    });

    /// <summary>Writes the changes from an index on: each further one lies under "and" of the one before it.</summary>
    private static void Changes(Utf8JsonWriter json, IReadOnlyList<WeekChange> changes, int index)
    {
        ChangeFormat.WriteFields(json, changes[index]);
        if (index + 1 < changes.Count) json.Object("and", () => Changes(json, changes, index + 1));
    }
}
