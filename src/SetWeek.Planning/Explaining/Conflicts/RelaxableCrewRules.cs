using SetWeek.Model.Plans;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>What protects the people at work, and the store with them in it; each with the week without it.</summary>
internal static class RelaxableCrewRules
{
    public static IEnumerable<RelaxableRule> Rest(Week week) =>
        from member in week.Crew
        let least = (Under18(week, member)?.MinRestMinutes ?? week.Rules.MinRestMinutes ?? 0)
        where least > 0
        select Exempting(member, RuleExemptions.Rest, RuleId.Rest,
            $"{member.Name} has {RulePhrases.Duration(least)} of rest at least between shifts, and between a shift and a commitment.");

    public static IEnumerable<RelaxableRule> Breaks(Week week) =>
        from member in week.Crew
        let length = Under18(week, member)?.BreakMinutes ?? week.Rules.BreakMinutes ?? 0
        let after = Under18(week, member)?.BreakAfterMinutes ?? week.Rules.BreakAfterMinutes
        where length > 0 && after is not null
        select Exempting(member, RuleExemptions.Breaks, RuleId.Break,
            $"{member.Name} has a break of {RulePhrases.Duration(length)} in a shift longer than {RulePhrases.Duration(after!.Value)}.");

    public static IEnumerable<RelaxableRule> ShiftLength(Week week) =>
        from member in week.Crew
        let longest = new[] { Under18(week, member)?.MaxShiftMinutes ?? week.Rules.MaxShiftMinutes, member.MaxMinutesPerNight }
            .Min()
        let ways = new[]
        {
            week.Rules.MinShiftMinutes is > 0 and var shortest ? $"are {RulePhrases.Duration(shortest)} long at least" : null,
            longest is { } most ? $"are {RulePhrases.Duration(most)} long at most" : null,
            member.MaxNights is { } nights && nights < week.Nights.Count ? $"are {nights} at most" : null,
        }.OfType<string>().ToArray()
        where ways.Length > 0
        select Exempting(member, RuleExemptions.ShiftLength, RuleId.ShiftLength, $"{member.Name}'s shifts {WeekPhrases.List(ways)}.");

    public static IEnumerable<RelaxableRule> Under18(Week week) =>
        from member in week.Crew
        let rules = Under18(week, member)
        where rules is not null && (rules.Until is not null || rules.Barred.Count > 0)
        let ways = new[]
        {
            rules.Until is { } until ? $"ends by {until:HH:mm}" : null,
            rules.Barred.Count > 0 ? $"does no work that is {string.Join(" or ", rules.Barred.Select(trait => $"“{trait}”"))}"
                : null,
        }.OfType<string>().ToArray()
        select Exempting(member, RuleExemptions.YoungWorker, RuleId.YoungWorker, $"{member.Name} is under 18 and {WeekPhrases.List(ways)}.");

    public static RelaxableRule? TwoPerson(Week week) => week.Rules.MinPeople is not (> 1 and var least) ? null
        : new(RuleId.TwoPerson, new RuleSubject(), $"Whenever anybody is on shift, at least {WeekPhrases.People(least)} are.",
            all => all with { Rules = all.Rules with { MinPeople = null } });

    public static RelaxableRule? Keyholder(Week week) => !week.Rules.KeyholderPresent ? null
        : new(RuleId.Keyholder, new RuleSubject(),
            "A keyholder is there for the whole of each night's shifts; "
                + WeekPhrases.ListFirst([.. week.Crew.Where(member => member.Keyholder).Select(member => member.Name)
                    .DefaultIfEmpty("nobody")], 6)
                + $" {(week.Crew.Count(member => member.Keyholder) > 1 ? "are" : "is")} one.",
            all => all with { Rules = all.Rules with { KeyholderPresent = false } });

    public static RelaxableRule? OpenClose(Week week) =>
        !week.Rules.KeyholderPresent || week.Rules is { OpeningMinutes: null or 0, ClosingMinutes: null or 0 } ? null
        : new(RuleId.OpenClose, new RuleSubject(),
            $"The keyholder is there {RulePhrases.Duration(week.Rules.OpeningMinutes ?? 0)} before the first work of a night and "
                + $"{RulePhrases.Duration(week.Rules.ClosingMinutes ?? 0)} after the last.",
            all => all with { Rules = all.Rules with { OpeningMinutes = null, ClosingMinutes = null } });

    private static Under18Rules? Under18(Week week, CrewMember member) => member.Under18 ? week.Rules.Under18 : null;

    private static RelaxableRule Exempting(CrewMember member, RuleExemptions exemption, RuleId rule, string sentence) =>
        new(rule, new RuleSubject { Person = member.Id }, sentence,
            week => week with
            {
                Crew = [.. week.Crew.Select(one => one.Id == member.Id ? one with { Exemptions = one.Exemptions | exemption } : one)],
            }) { Name = member.Name };
}
