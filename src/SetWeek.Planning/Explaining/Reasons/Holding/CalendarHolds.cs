using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Explaining.Reasons.Holding;

/// <summary>
/// What the calendar keeps a stint from: hours in which no night is open, bans, kits that are not in, what is past.
/// </summary>
internal static class CalendarHolds
{
    public static IEnumerable<Hold> Of(Subject subject) =>
        [.. Nights(subject), .. Bans(subject), .. Kits(subject), .. Now(subject)];

    private static IEnumerable<Hold> Nights(Subject subject)
    {
        var from = -Problem.Never;
        foreach (var night in subject.Problem.Nights.Take(subject.Work.Night + 1))
        {
            yield return new Hold("window", new About { Night = night.Id },
                $"The night opens {Say.At(subject.Problem, night.Opens)}.", new Span(from, night.Opens)) { Until = night.Opens };
            from = night.Closes - subject.Minutes + 1;
        }
    }

    private static IEnumerable<Hold> Bans(Subject subject) =>
        from night in subject.Problem.Nights
        from ban in night.Bans
        where subject.Task.Traits.Contains(ban.Trait)
        select new Hold("ban", Say.About(subject.Problem, subject.Work),
            $"It is {ban.Trait} work, barred from {Say.Span(subject.Problem, ban.Span)}.",
            subject.During(ban.Span)) { Until = ban.Span.To };

    private static IEnumerable<Hold> Kits(Subject subject) =>
        from id in subject.Problem.Week.Tasks[subject.Task.Index].Needs.Select(need => need.Kit).Distinct()
        let kit = subject.Problem.Week.Kits.First(kit => kit.Id == id)
        where kit.Eta is not null
        let comes = subject.Problem.Grid.MinuteOf(kit.Eta!.Value)
        select new Hold("kit", Say.About(subject.Problem, subject.Work) with { Kit = id },
            $"{kit.Name} comes {Say.At(subject.Problem, comes)}.", Subject.Before(comes)) { Until = comes };

    private static IEnumerable<Hold> Now(Subject subject)
    {
        if (subject.Problem.Facts is not { } facts) yield break;
        var about = Say.About(subject.Problem, subject.Work);
        yield return new Hold("frozen", about, $"Nothing new starts before now, {Say.At(subject.Problem, facts.Now)}.",
            Subject.Before(facts.Now)) { Until = facts.Now };
        if (facts.NotBefore[subject.Stint.Index] is > -Problem.Never and < Problem.Never and var until)
            yield return new Hold("frozen", about, $"It is blocked until {Say.At(subject.Problem, until)}.",
                Subject.Before(until))
                { Until = until };
    }
}
