using SetWeek.Model.Plans;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>What protects the people at work, and the store with them in it; each with the week without it.</summary>
internal static class CrewRules
{
    public static IEnumerable<Relief> Rest(Week week) =>
        from member in week.Crew
        let least = (Young(week, member)?.MinRestMinutes ?? week.Rules.MinRestMinutes ?? 0)
        where least > 0
        select Excusing(member, Excuse.Rest, "rest",
            $"{member.Name} has {Say.Length(least)} of rest at least between shifts, and between a shift and a commitment.");

    public static IEnumerable<Relief> Breaks(Week week) =>
        from member in week.Crew
        let length = Young(week, member)?.BreakMinutes ?? week.Rules.BreakMinutes ?? 0
        let after = Young(week, member)?.BreakAfterMinutes ?? week.Rules.BreakAfterMinutes
        where length > 0 && after is not null
        select Excusing(member, Excuse.Breaks, "break",
            $"{member.Name} has a break of {Say.Length(length)} in a shift longer than {Say.Length(after!.Value)}.");

    public static IEnumerable<Relief> ShiftLength(Week week) =>
        from member in week.Crew
        let longest = new[] { Young(week, member)?.MaxShiftMinutes ?? week.Rules.MaxShiftMinutes, member.MaxMinutesPerNight }
            .Min()
        let ways = new[]
        {
            week.Rules.MinShiftMinutes is > 0 and var shortest ? $"are {Say.Length(shortest)} long at least" : null,
            longest is { } most ? $"are {Say.Length(most)} long at most" : null,
            member.MaxNights is { } nights && nights < week.Nights.Count ? $"are {nights} at most" : null,
        }.OfType<string>().ToArray()
        where ways.Length > 0
        select Excusing(member, Excuse.ShiftLength, "shift-length", $"{member.Name}'s shifts {InWords.All(ways)}.");

    public static IEnumerable<Relief> Young(Week week) =>
        from member in week.Crew
        let rules = Young(week, member)
        where rules is not null && (rules.Until is not null || rules.Barred.Count > 0)
        let ways = new[]
        {
            rules.Until is { } until ? $"ends by {until:HH:mm}" : null,
            rules.Barred.Count > 0 ? $"does no work that is {string.Join(" or ", rules.Barred.Select(trait => $"“{trait}”"))}"
                : null,
        }.OfType<string>().ToArray()
        select Excusing(member, Excuse.Young, "young-worker", $"{member.Name} is under 18 and {InWords.All(ways)}.");

    public static Relief? TwoPerson(Week week) => week.Rules.MinPeople is not (> 1 and var least) ? null
        : new("two-person", new About(), $"Whenever anybody is on shift, at least {InWords.People(least)} are.",
            all => all with { Rules = all.Rules with { MinPeople = null } });

    public static Relief? Keyholder(Week week) => !week.Rules.KeyholderPresent ? null
        : new("keyholder", new About(),
            "A keyholder is there for the whole of each night's shifts; "
                + InWords.Some([.. week.Crew.Where(member => member.Keyholder).Select(member => member.Name)
                    .DefaultIfEmpty("nobody")], 6)
                + $" {(week.Crew.Count(member => member.Keyholder) > 1 ? "are" : "is")} one.",
            all => all with { Rules = all.Rules with { KeyholderPresent = false } });

    public static Relief? OpenClose(Week week) =>
        !week.Rules.KeyholderPresent || week.Rules is { OpeningMinutes: null or 0, ClosingMinutes: null or 0 } ? null
        : new("open-close", new About(),
            $"The keyholder is there {Say.Length(week.Rules.OpeningMinutes ?? 0)} before the first work of a night and "
                + $"{Say.Length(week.Rules.ClosingMinutes ?? 0)} after the last.",
            all => all with { Rules = all.Rules with { OpeningMinutes = null, ClosingMinutes = null } });

    private static Under18Rules? Young(Week week, CrewMember member) => member.Under18 ? week.Rules.Under18 : null;

    private static Relief Excusing(CrewMember member, Excuse what, string rule, string sentence) =>
        new(rule, new About { Person = member.Id }, sentence,
            week => week with
            {
                Crew = [.. week.Crew.Select(one => one.Id == member.Id ? one with { Excused = one.Excused | what } : one)],
            }) { Name = member.Name };
}
