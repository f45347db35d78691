using SetWeek.Scheduling.Rules;
using SetWeek.Scheduling.Search.Bounds;

namespace SetWeek.Scheduling.Explanations;

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
            var last = links.Select(link => link.Until).Concat(facts.Select(fact => fact.Until)).DefaultIfEmpty(-Problem.Never).Max();
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
        var name = Say.Stint(problem, before).TrimEnd(',');
        return new Held(rule, Say.About(problem, stint), $"{Say.Stint(problem, stint).TrimEnd(',')} waits for {name}, which ends {Say.At(problem, end)} "
            + $"at the earliest{(until > end ? $" and dries until {Say.At(problem, until)}" : "")}.")
            { By = Say.About(problem, before), Until = problem.Grid.TimeOf(until) };
    }

    private static IEnumerable<(int Until, Held Held)> Facts(Problem problem, Stint stint)
    {
        var about = Say.About(problem, stint);
        foreach (var need in problem.Week.Tasks[stint.Task.Index].Needs)
            if (problem.Week.Kits.First(kit => kit.Id == need.Kit) is { Eta: { } eta } kit && problem.Grid.MinuteOf(eta) is var comes)
                yield return (comes, new Held("kit", about with { Kit = kit.Id }, $"{Say.Stint(problem, stint).TrimEnd(',')} needs {kit.Name}, which comes "
                    + $"{Say.At(problem, comes)}.") { Until = problem.Grid.TimeOf(comes) });
        if (problem.Facts is not { } facts) yield break;
        if (facts.Begun[stint.Index] is { } begun)
            yield return (begun.From, new Held("frozen", about, $"{Say.Stint(problem, stint).TrimEnd(',')} began {Say.At(problem, begun.From)}."));
        yield return (facts.Now, new Held("frozen", about, $"Nothing new starts before now, {Say.At(problem, facts.Now)}.") { Until = problem.Grid.TimeOf(facts.Now) });
        if (facts.NotBefore[stint.Index] is > -Problem.Never and < Problem.Never and var until)
            yield return (until, new Held("frozen", about, $"{Say.Stint(problem, stint).TrimEnd(',')} is blocked until {Say.At(problem, until)}.") { Until = problem.Grid.TimeOf(until) });
    }

    /// <summary>What keeps it, alone, from the moment when nothing that it waits for is in the way any more until its start.</summary>
    private static Held? Calendar(Problem problem, Stint stint, int start, int last)
    {
        if (problem.Nights.FirstOrDefault(night => night.Opens == start) is { } opening && last < start)
            return new Held("window", new About { Night = opening.Id }, $"Night {opening.Id} opens {Say.At(problem, start)}.") { Until = problem.Grid.TimeOf(start) };
        if (problem.Rules is { KeyholderPresent: true, OpeningMinutes: > 0 and var minutes } && last < start
            && problem.Nights.FirstOrDefault(night => problem.NextSlot(night.Index, night.Opens + minutes) == start) is { } opened)
            return new Held("open-close", new About { Night = opened.Id },
                $"Night {opened.Id} opens {Say.At(problem, opened.Opens)}, and opening up takes {Say.Length(minutes)}.") { Until = problem.Grid.TimeOf(start) };
        foreach (var ban in problem.Nights.SelectMany(night => night.Bans))
            if (stint.Task.Traits.Contains(ban.Trait) && ban.Span.To <= start && start < ban.Span.To + problem.Grid.Minutes && last < start)
                return new Held("ban", Say.About(problem, stint), $"{Say.Stint(problem, stint).TrimEnd(',')} is {ban.Trait} work, barred until "
                    + $"{Say.At(problem, ban.Span.To)}.") { Until = problem.Grid.TimeOf(ban.Span.To) };
        return null;
    }
}
