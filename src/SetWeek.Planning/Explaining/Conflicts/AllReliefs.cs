using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// All that can be lifted from a week, rule by rule. Where several instances of a rule bind, they are parts of one that is all of
/// them: a conflict is looked for among few first, and then among the parts of those that are in it.
/// </summary>
internal static class AllReliefs
{
    /// <summary>In the order in which a lead would rather read of them: what a telephone call can change comes first.</summary>
    public static IReadOnlyList<Relief> Of(Week week) =>
        [.. new[]
        {
            Relief.Together("What must stand", [.. BusinessFacts.Musts(week)]),
            Relief.Together("The kits", [.. BusinessFacts.Kits(week)]),
            Relief.Together("What is due", [.. BusinessFacts.Dues(week)]),
            BusinessFacts.Launch(week),
            Relief.Together("Skills that only some have", [.. BusinessFacts.Skills(week)]),
            Relief.Together("Those who cannot come to all nights for the whole of them", [.. BusinessFacts.Absences(week)]),
            Relief.Together("The hours of the nights", [.. BusinessFacts.Windows(week)]),
            Relief.Together("Bans", [.. BusinessFacts.Bans(week)]),
            Relief.Together("Room in the zones", [.. BusinessFacts.Rooms(week)]),
            Relief.Together("Equipment", [.. BusinessFacts.Equipment(week)]),
            Relief.Together("What dries before the work after it", [.. WorkRules.Drying(week)]),
            Relief.Together("What is secured in the night in which it was begun", [.. WorkRules.SameNight(week)]),
            Relief.Together("Zones that stay closed after work", [.. WorkRules.ZoneClosed(week)]),
            Relief.Together("Rest between shifts", [.. CrewRules.Rest(week)]),
            Relief.Together("Young workers", [.. CrewRules.Young(week)]),
            CrewRules.TwoPerson(week),
            Relief.Together("How long, short and many shifts may be", [.. CrewRules.ShiftLength(week)]),
            Relief.Together("Breaks", [.. CrewRules.Breaks(week)]),
            CrewRules.Keyholder(week),
            CrewRules.OpenClose(week),
            WorkRules.Last(week),
            Relief.Together("Clean-downs", [.. WorkRules.CleanDowns(week)]),
            Relief.Together("What comes after other work", [.. WorkRules.After(week)]),
        }.OfType<Relief>()];

    /// <summary>One by one, those that somebody can change; the other rules as wholes.</summary>
    public static IEnumerable<Relief> Single(Week week)
    {
        var all = Of(week);
        string[] facts = ["kit", "due", "launch", "ban", "equipment", "zone-room", "skill"];
        string[] last = ["availability", "whole"];
        return
        [
            .. facts.SelectMany(rule => all.Where(relief => relief.Rule == rule)).SelectMany(Parts),
            .. all.Where(relief => relief.Rule is "drying" or "same-night" or "zone-closed"),
            .. all.Where(relief => relief.Rule == "window").SelectMany(Parts),
            .. all.Where(relief => !facts.Contains(relief.Rule) && !last.Contains(relief.Rule)
                && relief.Rule is not ("drying" or "same-night" or "zone-closed" or "window")),
            .. last.SelectMany(rule => all.Where(relief => relief.Rule == rule)).SelectMany(Parts),
        ];
    }

    private static IEnumerable<Relief> Parts(Relief relief) => relief.Parts.Count == 0 ? [relief] : relief.Parts;
}
