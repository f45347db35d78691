using SetWeek.Model.Plans;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>Relaxable rules on working time, breaks, company and keyholders.</summary>
internal static class RelaxableCrewRules
{
    public static IEnumerable<RelaxableRule> Rest(Week week) =>
        from member in week.Crew
        let least = (Under18(week, member)?.MinRestMinutes ?? week.Rules.MinRestMinutes ?? 0)
        where least > 0
        select Exempting(member, RuleExemptions.Rest, RuleId.Rest,
            $"{member.Name} needs at least {RulePhrases.Duration(least)} of rest between shifts, and between a shift and a "
                + "commitment.");

    public static IEnumerable<RelaxableRule> Breaks(Week week) =>
        from member in week.Crew
        let length = Under18(week, member)?.BreakMinutes ?? week.Rules.BreakMinutes ?? 0
        let after = Under18(week, member)?.BreakAfterMinutes ?? week.Rules.BreakAfterMinutes
        where length > 0 && after is not null
        select Exempting(member, RuleExemptions.Breaks, RuleId.Break,
            $"{member.Name} needs a break of {RulePhrases.Duration(length)} in shifts longer than "
                + RulePhrases.Duration(after!.Value)
                + (week.Rules.BreakClearMinutes is > 0 and var clear
                    ? $", {RulePhrases.Duration(clear)} clear of both ends." : "."));

    public static IEnumerable<RelaxableRule> ShiftLength(Week week) =>
        from member in week.Crew
        let longest = new[] { Under18(week, member)?.MaxShiftMinutes ?? week.Rules.MaxShiftMinutes, member.MaxMinutesPerNight }
            .Min()
        let limits = new[]
        {
            week.Rules.MinShiftMinutes is > 0 and var shortest ? $"last at least {RulePhrases.Duration(shortest)}" : null,
            longest is { } most ? $"last at most {RulePhrases.Duration(most)}" : null,
            member.MaxNights is { } nights && nights < week.Nights.Count
                ? $"fall in at most {(nights == 1 ? "1 night" : $"{nights} nights")}" : null,
        }.OfType<string>().ToArray()
        where limits.Length > 0
        select Exempting(member, RuleExemptions.ShiftLength, RuleId.ShiftLength,
            $"{member.Name}'s shifts {WeekPhrases.List(limits)}.");

    /// <summary>Everybody reads a conflict, so the sentences do not tell the age.</summary>
    public static IEnumerable<RelaxableRule> Under18(Week week) =>
        from member in week.Crew
        let rules = Under18(week, member)
        where rules is not null && (rules.Until is not null || rules.Barred.Count > 0)
        let limits = new[]
        {
            rules.Until is { } until ? $"is to be home by {until:HH:mm}" : null,
            rules.Barred.Count > 0
                ? $"does no {string.Join(" or ", rules.Barred.Select(trait => $"“{trait}”"))} work" : null,
        }.OfType<string>().ToArray()
        select Exempting(member, RuleExemptions.YoungWorker, RuleId.YoungWorker,
            $"{member.Name} {WeekPhrases.List(limits)}.");

    public static RelaxableRule? TwoPerson(Week week) => week.Rules.MinPeople is not (> 1 and var least) ? null
        : new(RuleId.TwoPerson, new RuleSubject(),
            $"Whenever someone is on shift, at least {WeekPhrases.People(least)} must be on shift.",
            all => all with { Rules = all.Rules with { MinPeople = null } });

    public static RelaxableRule? Briefing(Week week) => week.Rules.BriefingMinutes is not (> 0 and var briefing) ? null
        : new(RuleId.Briefing, new RuleSubject(),
            $"Nobody starts work in the first {RulePhrases.Duration(briefing)} of their shift.",
            all => all with { Rules = all.Rules with { BriefingMinutes = null } });

    public static RelaxableRule? Keyholder(Week week) => !week.Rules.KeyholderPresent ? null
        : new(RuleId.Keyholder, new RuleSubject(),
            $"A keyholder must be present during all shifts of a night; {KeyholdersIn(week)}.",
            all => all with { Rules = all.Rules with { KeyholderPresent = false } });

    public static RelaxableRule? OpenClose(Week week) =>
        !week.Rules.KeyholderPresent || week.Rules is { OpeningMinutes: null or 0, ClosingMinutes: null or 0 } ? null
        : new(RuleId.OpenClose, new RuleSubject(),
            $"The keyholder must be present from {RulePhrases.Duration(week.Rules.OpeningMinutes ?? 0)} before the first work of "
                + $"a night until {RulePhrases.Duration(week.Rules.ClosingMinutes ?? 0)} after the last.",
            all => all with { Rules = all.Rules with { OpeningMinutes = null, ClosingMinutes = null } });

    private static string KeyholdersIn(Week week)
    {
        string[] names = [.. week.Crew.Where(member => member.Keyholder).Select(member => member.Name)];
        return names.Length switch
        {
            0 => "the crew has no keyholder",
            1 => $"{names[0]} is the only keyholder",
            _ => $"the keyholders are {WeekPhrases.ListFirst(names, 6)}",
        };
    }

    private static Under18Rules? Under18(Week week, CrewMember member) => member.Under18 ? week.Rules.Under18 : null;

    private static RelaxableRule Exempting(CrewMember member, RuleExemptions exemption, RuleId rule, string sentence) =>
        new(rule, new RuleSubject { Person = member.Id }, sentence,
            week => week with
            {
                Crew = [.. week.Crew.Select(other =>
                    other.Id == member.Id ? other with { Exemptions = other.Exemptions | exemption } : other)],
            }) { Name = member.Name };
}
