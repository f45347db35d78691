using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Shapes;

/// <summary>A task's fields, each in its kind and range.</summary>
public static class TaskShape
{
    public static SetTask Task(JsonCursor cursor) => cursor.Object(at => new SetTask
    {
        Id = at.Id("id"),
        Name = at.Text("name"),
        Display = at.Id("display"),
        Zone = at.Id("zone"),
        Modes = at.List("modes", Mode, WeekLimits.Modes, least: 1),
        Stints = at.Int("stints", 1, WeekLimits.Stints, otherwise: 1),
        After = at.OptionalList("after", After, WeekLimits.Links),
        Needs = at.OptionalList("needs", Need, WeekLimits.Needs),
        Traits = at.OptionalList("traits", trait => trait.Word(), WeekLimits.Traits),
        Due = at.OptionalId("due"),
        Last = at.Flag("last"),
        ClosesZoneMinutes = at.Int("closesZoneMinutes", 0, WeekLimits.Minutes, otherwise: 0),
        Estimate = at.OptionalObject("estimate", of => new Estimate(
            of.Int("optimistic", 0, WeekLimits.Minutes), of.Int("pessimistic", 0, WeekLimits.Minutes))),
        Checks = Sayings(at, "checks"),
        Steps = Sayings(at, "steps"),
        Cautions = Sayings(at, "cautions"),
    });

    public static Mode Mode(JsonCursor cursor) => cursor.Object(at => new Mode(
        at.Int("minutes", 1, WeekLimits.Minutes), at.OptionalList("roles", Role, WeekLimits.Roles))
    {
        Equipment = at.OptionalList("equipment", piece => piece.Object(of => new EquipmentUse(
            of.Id("id"), of.Int("count", 1, WeekLimits.Pieces))), WeekLimits.Roles),
    });

    public static Role Role(JsonCursor cursor) =>
        cursor.Object(at => new Role(at.Word("skill"), at.Int("people", 1, WeekLimits.People))
    {
        Level = at.Int("level", 1, 3, otherwise: 1),
    });

    public static After After(JsonCursor cursor) => cursor.Object(at => new After(at.Id("task"))
    {
        DryMinutes = at.Int("dryMinutes", 0, WeekLimits.Minutes, otherwise: 0),
        SameNight = at.Flag("sameNight"),
    });

    public static Need Need(JsonCursor cursor) => cursor.Object(at => new Need(at.Id("kit"))
    {
        Item = at.OptionalWord("item"),
        Count = at.Int("count", 1, WeekLimits.Pieces, otherwise: 1),
    });

    private static IReadOnlyList<string> Sayings(JsonFields at, string name) =>
        at.OptionalList(name, saying => saying.Text(WeekLimits.SayingLength), WeekLimits.Sayings);
}
