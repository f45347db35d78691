using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Explaining.Reasons.Restrictions;

/// <summary>
/// Restrictions of a stint's start by the calendar: closed hours, bans, kits that have not arrived, and the past of a re-plan.
/// </summary>
internal static class CalendarRestrictions
{
    public static IEnumerable<StartRestriction> Of(ExplanationSubject subject) =>
        [.. Nights(subject), .. Bans(subject), .. Kits(subject), .. ReplanTime(subject)];

    private static IEnumerable<StartRestriction> Nights(ExplanationSubject subject)
    {
        var from = -Problem.Never;
        foreach (var night in subject.Problem.Nights.Take(subject.Work.Night + 1))
        {
            yield return new StartRestriction(RuleId.Window, new RuleSubject { Night = night.Id },
                $"The night opens {RulePhrases.Time(subject.Problem, night.Opens)}.", new Span(from, night.Opens))
                { Until = night.Opens };
            from = night.Closes - subject.Minutes + 1;
        }
    }

    private static IEnumerable<StartRestriction> Bans(ExplanationSubject subject) =>
        from night in subject.Problem.Nights
        from ban in night.Bans
        where subject.Task.Traits.Contains(ban.Trait)
        select new StartRestriction(RuleId.Ban, RulePhrases.Subject(subject.Problem, subject.Work),
            $"It is {ban.Trait} work, which is banned from {RulePhrases.Span(subject.Problem, ban.Span)}.",
            subject.StartsOverlapping(ban.Span)) { Until = ban.Span.To };

    private static IEnumerable<StartRestriction> Kits(ExplanationSubject subject) =>
        from id in subject.Problem.Week.Tasks[subject.Task.Index].Needs.Select(need => need.Kit).Distinct()
        let kit = subject.Problem.Week.Kits.First(kit => kit.Id == id)
        where kit.Eta is not null
        let comes = subject.Problem.Grid.MinuteOf(kit.Eta!.Value)
        select new StartRestriction(RuleId.Kit, RulePhrases.Subject(subject.Problem, subject.Work) with { Kit = id },
            $"“{kit.Name}” arrives {RulePhrases.Time(subject.Problem, comes)}.", ExplanationSubject.StartsBefore(comes))
            { Until = comes };

    private static IEnumerable<StartRestriction> ReplanTime(ExplanationSubject subject)
    {
        if (subject.Problem.Facts is not { } facts) yield break;
        var about = RulePhrases.Subject(subject.Problem, subject.Work);
        yield return new StartRestriction(RuleId.Frozen, about,
            $"Nothing new starts before now, {RulePhrases.Time(subject.Problem, facts.Now)}.",
            ExplanationSubject.StartsBefore(facts.Now)) { Until = facts.Now };
        if (facts.EarliestStarts[subject.Stint.Index] is > -Problem.Never and < Problem.Never and var until)
            yield return new StartRestriction(RuleId.Frozen, about,
                $"It is blocked until {RulePhrases.Time(subject.Problem, until)}.", ExplanationSubject.StartsBefore(until))
                { Until = until };
    }
}
