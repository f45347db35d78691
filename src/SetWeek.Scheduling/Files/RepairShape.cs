namespace SetWeek.Scheduling.Files;

/// <summary>A repair's fields, which depend on its kind.</summary>
internal static class RepairShape
{
    public static Repair Repair(JsonCursor cursor) => cursor.Object(at =>
    {
        var kind = at.Choice("kind", "personNight", "window", "kit", "due", "leaveOut", "alternate", "room");
        var repair = new Repair
        {
            Kind = kind,
            Goals = at.OptionalList("goals", PlanShape.Goal, WeekLimits.Goals),
            Sentence = at.Text("sentence", WeekLimits.SayingLength),
        };
        return kind switch
        {
            "personNight" => repair with { Night = at.Id("night"), Skill = at.Word("skill"), Level = at.Int("level", 1, 3) },
            "window" => repair with { Night = at.Id("night"), Opens = at.OptionalLocalTime("opens"), Closes = at.OptionalLocalTime("closes") },
            "kit" => repair with { Kit = at.Id("kit"), Eta = at.LocalTime("eta") },
            "due" => repair with { Task = at.Id("task"), Night = at.Id("night") },
            "room" => repair with { Zone = at.Id("zone"), MaxPeople = at.Int("maxPeople", 1, 1000) },
            _ => repair with { Display = at.Id("display") },
        };
    });
}
