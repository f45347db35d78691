using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Explaining.Reasons.Holding;

namespace SetWeek.Planning.Explaining.Reasons;

/// <summary>
/// Why a stint starts before a certain moment in no plan, link by link back to a fact: what it waits for at the least, why that
/// cannot be over sooner, and so on. Each link is a tightening of the calendar's longest path; empty where one is not such.
/// </summary>
internal static class Chain
{
    public static IReadOnlyList<Held> Of(Problem problem, StintWindows windows, Stint stint)
    {
        var chain = new List<Held>();
        while (windows.Possible(stint.Index))
        {
            var start = windows.EarliestStart(stint.Index);
            var links = windows.Edges.Where(edge => edge.To == stint.Index && windows.Binds(edge, stint.Index))
                .Select(edge => (Edge: edge, Until: windows.EarliestEnd(edge.From) + edge.Lag)).ToArray();
            var facts = Facts(problem, stint).ToArray();
            int[] over = [-Problem.Never, .. links.Select(link => link.Until), .. facts.Select(fact => fact.Until)];
            var last = over.Max();
            if (Calendar(problem, stint, start, last) is { } closed) chain.Add(closed);
            else if (start > last + problem.Grid.Minutes) return [];
            if (last <= problem.Nights[0].Opens) return chain;
            if (facts.FirstOrDefault(fact => fact.Until == last).Held is { } fact)
            {
                chain.Add(fact);
                return chain;
            }
            var binding = links.First(link => link.Until == last);
            var before = problem.Stints[binding.Edge.From];
            chain.Add(Link(problem, stint, before, windows.EarliestEnd(before.Index), last));
            stint = before;
        }
        return [];
    }

    private static Held Link(Problem problem, Stint stint, Stint before, int end, int until)
    {
        var rule = before.Task == stint.Task ? "whole" : until > end ? "drying"
            : stint.Task.After.Any(link => link.Task == before.Task.Index) ? "after" : "last";
        var dries = until > end ? $" and dries until {Say.At(problem, until)}" : "";
        return new Held(rule, Say.About(problem, stint),
            $"{Name(problem, stint)} waits for {Name(problem, before)}, which ends {Say.At(problem, end)} at the "
                + $"earliest{dries}.")
            { By = Say.About(problem, before), Until = problem.Grid.TimeOf(until) };
    }

    private static IEnumerable<(int Until, Held Held)> Facts(Problem problem, Stint stint)
    {
        var (about, name) = (Say.About(problem, stint), Name(problem, stint));
        foreach (var id in problem.Week.Tasks[stint.Task.Index].Needs.Select(need => need.Kit).Distinct())
            if (problem.Week.Kits.First(kit => kit.Id == id) is { Eta: { } eta } kit && problem.Grid.MinuteOf(eta) is var comes)
                yield return Fact("kit", about with { Kit = id }, comes,
                    $"{name} needs {kit.Name}, which comes {Say.At(problem, comes)}.");
        if (problem.Facts is not { } facts) yield break;
        if (facts.Begun[stint.Index] is { } begun)
            yield return Fact("frozen", about, begun.From, $"{name} began {Say.At(problem, begun.From)}.");
        yield return Fact("frozen", about, facts.Now, $"Nothing new starts before now, {Say.At(problem, facts.Now)}.");
        if (facts.NotBefore[stint.Index] is > -Problem.Never and < Problem.Never and var until)
            yield return Fact("frozen", about, until, $"{name} is blocked until {Say.At(problem, until)}.");

        (int, Held) Fact(string rule, About about, int until, string sentence) =>
            (until, At(problem, rule, about, until, sentence));
    }

    /// <summary>What keeps it, alone, once nothing that it waits for is in the way any more, until its start.</summary>
    private static Held? Calendar(Problem problem, Stint stint, int start, int last)
    {
        if (last >= start) return null;
        if (problem.Nights.FirstOrDefault(night => night.Opens == start) is { } night)
            return At(problem, "window", new About { Night = night.Id }, start, $"The night opens {Say.At(problem, start)}.");
        if (problem.Rules is { KeyholderPresent: true, OpeningMinutes: > 0 and var minutes }
            && problem.Nights.FirstOrDefault(one => problem.NextSlot(one.Index, one.Opens + minutes) == start) is { } opened)
            return At(problem, "open-close", new About { Night = opened.Id }, start,
                $"The night opens {Say.At(problem, opened.Opens)}, and opening up takes {Say.Length(minutes)}.");
        foreach (var ban in problem.Nights.SelectMany(one => one.Bans).Where(ban => stint.Task.Traits.Contains(ban.Trait)))
            if (ban.Span.To <= start && start < ban.Span.To + problem.Grid.Minutes)
                return At(problem, "ban", Say.About(problem, stint), ban.Span.To,
                    $"{Name(problem, stint)} is {ban.Trait} work, barred until {Say.At(problem, ban.Span.To)}.");
        return null;
    }

    private static Held At(Problem problem, string rule, About about, int until, string sentence) =>
        new(rule, about, sentence) { Until = problem.Grid.TimeOf(until) };

    /// <summary>Not at the beginning of a sentence, where a part is set off by commas.</summary>
    private static string Name(Problem problem, Stint stint) => Say.Stint(problem, stint).TrimEnd(',');
}
