using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// All rule instances that can be relaxed in a week. The instances of one rule form a group. A conflict is searched among the
/// groups first, then among the instances of the groups that are in it.
/// </summary>
internal static class AllRelaxableRules
{
    /// <summary>Those that still bind something in a re-plan; without a re-plan, all.</summary>
    public static IReadOnlyList<RelaxableRule> Of(Week week, Replan? replan)
    {
        if (replan is null) return Of(week);
        var past = new PastInstances(week, replan);
        return [.. Of(week).Select(past.Without).OfType<RelaxableRule>()];
    }

    /// <summary>In reading order: what a lead can change with a telephone call comes first.</summary>
    public static IReadOnlyList<RelaxableRule> Of(Week week) =>
        [.. new[]
        {
            RelaxableRule.Group("Displays that must be built", [.. RelaxableFacts.MandatoryDisplays(week)]),
            RelaxableRule.Group("Kits", [.. RelaxableFacts.Kits(week)]),
            RelaxableRule.Group("Pins, of which lifting some would help", [.. RelaxableFacts.Pins(week)]),
            RelaxableRule.Group("Due tasks", [.. RelaxableFacts.Dues(week)]),
            RelaxableFacts.Launch(week),
            RelaxableRule.Group("Skills of the crew", [.. RelaxableFacts.Skills(week)]),
            RelaxableRule.Group("People who cannot come for every whole night", [.. RelaxableFacts.Absences(week)]),
            RelaxableRule.Group("Hours of the nights", [.. RelaxableFacts.NightWindows(week)]),
            RelaxableRule.Group("Bans", [.. RelaxableFacts.Bans(week)]),
            RelaxableRule.Group("Room in the zones", [.. RelaxableFacts.ZoneCapacities(week)]),
            RelaxableRule.Group("Equipment", [.. RelaxableFacts.Equipment(week)]),
            RelaxableRule.Group("Drying before later work", [.. RelaxableWorkRules.Drying(week)]),
            RelaxableRule.Group("Work that must be secured in the same night", [.. RelaxableWorkRules.SameNight(week)]),
            RelaxableRule.Group("Zones that stay closed after work", [.. RelaxableWorkRules.ZoneClosed(week)]),
            RelaxableRule.Group("Work that nobody does alone", [.. RelaxableWorkRules.Company(week)]),
            RelaxableRule.Group("Rest between shifts", [.. RelaxableCrewRules.Rest(week)]),
            RelaxableRule.Group("People who are to be home by an hour, or do not do every kind of work",
                [.. RelaxableCrewRules.Under18(week)]),
            RelaxableCrewRules.TwoPerson(week),
            RelaxableRule.Group("Length and number of shifts", [.. RelaxableCrewRules.ShiftLength(week)]),
            RelaxableRule.Group("Breaks", [.. RelaxableCrewRules.Breaks(week)]),
            RelaxableCrewRules.Briefing(week),
            RelaxableCrewRules.Keyholder(week),
            RelaxableCrewRules.OpenClose(week),
            RelaxableWorkRules.FinalTask(week),
            RelaxableRule.Group("Clean-downs", [.. RelaxableWorkRules.CleanDowns(week)]),
            RelaxableRule.Group("Order of tasks", [.. RelaxableWorkRules.Precedences(week)]),
        }.OfType<RelaxableRule>()];

    /// <summary>Rules that a lead can change as single instances, the other rules as groups.</summary>
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

    private static IEnumerable<RelaxableRule> PartsOf(RelaxableRule relaxable) =>
        relaxable.Parts.Count == 0 ? [relaxable] : relaxable.Parts;
}
