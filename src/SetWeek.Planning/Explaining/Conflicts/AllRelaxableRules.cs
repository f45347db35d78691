using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// All that can be lifted from a week, rule by rule. Where several instances of a rule bind, they are parts of one that is all of
/// them: a conflict is looked for among few first, and then among the parts of those that are in it.
/// </summary>
internal static class AllRelaxableRules
{
    /// <summary>In the order in which a lead would rather read of them: what a telephone call can change comes first.</summary>
    public static IReadOnlyList<RelaxableRule> Of(Week week) =>
        [.. new[]
        {
            RelaxableRule.Group("What must stand", [.. RelaxableFacts.MandatoryDisplays(week)]),
            RelaxableRule.Group("The kits", [.. RelaxableFacts.Kits(week)]),
            RelaxableRule.Group("What is due", [.. RelaxableFacts.Dues(week)]),
            RelaxableFacts.Launch(week),
            RelaxableRule.Group("Skills that only some have", [.. RelaxableFacts.Skills(week)]),
            RelaxableRule.Group("Those who cannot come to all nights for the whole of them", [.. RelaxableFacts.Absences(week)]),
            RelaxableRule.Group("The hours of the nights", [.. RelaxableFacts.NightWindows(week)]),
            RelaxableRule.Group("Bans", [.. RelaxableFacts.Bans(week)]),
            RelaxableRule.Group("Room in the zones", [.. RelaxableFacts.ZoneCapacities(week)]),
            RelaxableRule.Group("Equipment", [.. RelaxableFacts.Equipment(week)]),
            RelaxableRule.Group("What dries before the work after it", [.. RelaxableWorkRules.Drying(week)]),
            RelaxableRule.Group("What is secured in the night in which it was begun", [.. RelaxableWorkRules.SameNight(week)]),
            RelaxableRule.Group("Zones that stay closed after work", [.. RelaxableWorkRules.ZoneClosed(week)]),
            RelaxableRule.Group("Rest between shifts", [.. RelaxableCrewRules.Rest(week)]),
            RelaxableRule.Group("Young workers", [.. RelaxableCrewRules.Under18(week)]),
            RelaxableCrewRules.TwoPerson(week),
            RelaxableRule.Group("How long, short and many shifts may be", [.. RelaxableCrewRules.ShiftLength(week)]),
            RelaxableRule.Group("Breaks", [.. RelaxableCrewRules.Breaks(week)]),
            RelaxableCrewRules.Keyholder(week),
            RelaxableCrewRules.OpenClose(week),
            RelaxableWorkRules.FinalTask(week),
            RelaxableRule.Group("Clean-downs", [.. RelaxableWorkRules.CleanDowns(week)]),
            RelaxableRule.Group("What comes after other work", [.. RelaxableWorkRules.Precedences(week)]),
        }.OfType<RelaxableRule>()];

    /// <summary>One by one, those that somebody can change; the other rules as wholes.</summary>
    public static IEnumerable<RelaxableRule> Individually(Week week)
    {
        var all = Of(week);
        RuleId[] facts = [RuleId.Kit, RuleId.Due, RuleId.Launch, RuleId.Ban, RuleId.Equipment, RuleId.ZoneRoom, RuleId.Skill];
        RuleId[] last = [RuleId.Availability, RuleId.Whole];
        return
        [
            .. facts.SelectMany(rule => all.Where(relaxable => relaxable.Rule == rule)).SelectMany(PartsOf),
            .. all.Where(relaxable => relaxable.Rule is RuleId.Drying or RuleId.SameNight or RuleId.ZoneClosed),
            .. all.Where(relaxable => relaxable.Rule == RuleId.Window).SelectMany(PartsOf),
            .. all.Where(relaxable => !facts.Contains(relaxable.Rule) && !last.Contains(relaxable.Rule)
                && relaxable.Rule is not (RuleId.Drying or RuleId.SameNight or RuleId.ZoneClosed or RuleId.Window)),
            .. last.SelectMany(rule => all.Where(relaxable => relaxable.Rule == rule)).SelectMany(PartsOf),
        ];
    }

    private static IEnumerable<RelaxableRule> PartsOf(RelaxableRule relaxable) => relaxable.Parts.Count == 0 ? [relaxable] : relaxable.Parts;
}
