using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Shapes;

/// <summary>Reads the fields of a task and checks the kind and range of each. Faults are added to the cursor.</summary>
public static class TaskReader
{
    /// <summary>Reads a task.</summary>
    public static WeekTask Task(JsonCursor cursor) => cursor.Object(at => Task(at.Id("id"), at));

    /// <summary>Reads the fields of a task whose id is known.</summary>
    public static WeekTask Task(string id, JsonFields at) => new()
    {
        Id = id,
        Name = at.Text("name"),
        Display = at.Id("display"),
        Zone = at.Id("zone"),
        Modes = at.List("modes", Mode, WeekLimits.Modes, least: 1),
        Stints = at.Int("stints", 1, WeekLimits.Stints, otherwise: 1),
        After = at.OptionalList("after", Precedence, WeekLimits.Precedences),
        Needs = at.OptionalList("needs", KitRequirement, WeekLimits.KitRequirements),
        Traits = at.OptionalList("traits", trait => trait.Word(), WeekLimits.Traits),
        Due = at.OptionalId("due"),
        Last = at.Flag("last"),
        Empties = at.Flag("empties"),
        Fills = at.Flag("fills"),
        ClosesZoneMinutes = at.Int("closesZoneMinutes", 0, WeekLimits.Minutes, otherwise: 0),
        Estimate = at.OptionalObject("estimate", of => new Estimate(
            of.Int("optimistic", 0, WeekLimits.Minutes), of.Int("pessimistic", 0, WeekLimits.Minutes))),
        Checks = Instructions(at, "checks"),
        Steps = Instructions(at, "steps"),
        Cautions = Instructions(at, "cautions"),
    };

    /// <summary>Reads a mode.</summary>
    public static Mode Mode(JsonCursor cursor) => cursor.Object(at => new Mode(
        at.Int("minutes", 1, WeekLimits.Minutes), at.OptionalList("roles", SkillRequirement, WeekLimits.SkillRequirements))
    {
        Equipment = at.OptionalList("equipment", piece => piece.Object(of => new EquipmentUse(
            of.Id("id"), of.Int("count", 1, WeekLimits.Pieces))), WeekLimits.SkillRequirements),
    });

    /// <summary>Reads one entry of "roles".</summary>
    public static SkillRequirement SkillRequirement(JsonCursor cursor) =>
        cursor.Object(at => new SkillRequirement(at.Word("skill"), at.Int("people", 1, WeekLimits.People))
    {
        Level = at.Int("level", 1, 3, otherwise: 1),
    });

    /// <summary>Reads one entry of "after".</summary>
    public static TaskPrecedence Precedence(JsonCursor cursor) => cursor.Object(at => new TaskPrecedence(at.Id("task"))
    {
        DryMinutes = at.Int("dryMinutes", 0, WeekLimits.Minutes, otherwise: 0),
        SameNight = at.Flag("sameNight"),
    });

    /// <summary>Reads one entry of "needs".</summary>
    public static KitRequirement KitRequirement(JsonCursor cursor) => cursor.Object(at => new KitRequirement(at.Id("kit"))
    {
        Item = at.OptionalWord("item"),
        Count = at.Int("count", 1, WeekLimits.Pieces, otherwise: 1),
    });

    private static IReadOnlyList<string> Instructions(JsonFields at, string name) =>
        at.OptionalList(name, instruction => instruction.Text(WeekLimits.SentenceLength), WeekLimits.Instructions);
}
