using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// Work against hands, summed over ranges of nights: minutes x people that only a set of people can do, of stints that lie
/// in the range in every valid plan, against the minutes that the set can be at work there. The same for pieces of
/// equipment against the nights' lengths. Begun work is not counted, nor is it taken off what people can do.
/// </summary>
internal sealed class Energy(Problem problem, CrewRooms crew, StartRooms starts, StintWindows windows, CrewSets sets)
{
    /// <summary>A set of people, or a piece of equipment, that a range of nights asks more of than it has.</summary>
    internal sealed record Shortage(ulong Set, int? Equipment, int FirstNight, int LastNight, long Asked, long Has);

    public Shortage? Short { get; private set; }

    /// <summary>Position, from 1, of the earliest night by which all that is sure to be done can be.</summary>
    public int Nights { get; private set; }

    private readonly int[] tails = Tails(problem, starts, windows);

    /// <summary>Minutes after the first opens by which all that is sure can be done.</summary>
    public int Finish { get; private set; }

    public Energy Weigh()
    {
        foreach (var set in sets.Sets)
            Weigh(set, null, (stint, way, minutes) => (long)minutes * sets.Takes(set, way, stint.Task),
                range => MostWork(set, range), System.Numerics.BitOperations.PopCount(set));
        for (var piece = 0; piece < problem.EquipmentCounts.Count; piece++)
        {
            var (index, count) = (piece, problem.EquipmentCounts[piece]);
            Weigh(0, index, (_, way, minutes) => (long)minutes * way.Equipment.Where(use => use.Equipment == index)
                .Sum(use => use.Count),
                range => Enumerable.Range(range.First, range.Last - range.First + 1)
                    .Sum(night => (long)count * problem.Nights[night].Span.Minutes), count);
        }
        return this;
    }

    private void Weigh(ulong set, int? equipment, Func<Stint, Way, int, long> asks, Func<(int First, int Last), long> has,
        int atOnce)
    {
        var count = problem.Nights.Count;
        var asked = new long[count, count];
        var asking = new List<int>();
        foreach (var stint in problem.Stints)
        {
            if (!windows.Placing.Sure(stint.Task.Display) || problem.Facts?.Begun[stint.Index] is not null
                || !windows.Possible(stint.Index)) continue;
            var least = starts.Modes(stint).Min(mode => asks(stint, stint.Task.Ways[mode], problem.MinutesOf(stint, mode)));
            asked[windows.FirstNight(stint.Index), windows.LastNight(stint.Index)] += least;
            if (least > 0) asking.Add(stint.Index);
        }
        if (asking.Count == 0) return;
        var total = 0L;
        for (var first = count - 1; first >= 0; first--)
        {
            var inside = 0L;
            for (var last = first; last < count; last++)
            {
                for (var from = first; from <= last; from++) inside += asked[from, last];
                if (inside == 0) continue;
                var can = has((first, last));
                if (inside > can && (Short is null || last - first < Short.LastNight - Short.FirstNight))
                    Short = new(set, equipment, first, last, inside, can);
            }
            if (first == 0) total = inside;
        }
        Reach(total, has, atOnce, asking);
    }

    /// <summary>
    /// How far into the nights the whole of the work reaches, everybody of the set working without a pause from the first
    /// moment that any of it can begin in its last night; and what must follow the last of it follows.
    /// </summary>
    private void Reach(long total, Func<(int First, int Last), long> has, int atOnce, List<int> asking)
    {
        for (var night = 0; night < problem.Nights.Count; night++)
        {
            if (total > has((0, night))) continue;
            var left = total - (night == 0 ? 0 : has((0, night - 1)));
            if (left <= 0) return;
            Nights = Math.Max(Nights, night + 1);
            var first = asking.Min(stint => windows.Of(stint, night)?.EarliestStart ?? Problem.Never);
            if (first < Problem.Never)
                Finish = Math.Max(Finish, first + (int)((left + atOnce - 1) / atOnce) + asking.Min(stint => tails[stint]));
            return;
        }
    }

    /// <summary>By stint: least minutes of what must still follow its end in every plan.</summary>
    private static int[] Tails(Problem problem, StartRooms starts, StintWindows windows)
    {
        var tails = new int[problem.Stints.Count];
        for (var (round, changed) = (0, true); changed && round < tails.Length; round++)
        {
            changed = false;
            foreach (var edge in windows.Edges)
            {
                if (!windows.Binds(edge, edge.From) || problem.Facts is not null) continue;
                var after = problem.Stints[edge.To];
                var tail = edge.Lag + starts.Modes(after).Min(mode => problem.MinutesOf(after, mode)) + tails[edge.To];
                if (tail <= tails[edge.From]) continue;
                (tails[edge.From], changed) = (tail, true);
            }
        }
        return tails;
    }

    private long MostWork(ulong set, (int First, int Last) range)
    {
        var total = 0L;
        foreach (var person in problem.Crew.Where(person => CrewSets.Holds(set, person.Index)))
        {
            var most = Enumerable.Range(range.First, range.Last - range.First + 1)
                .Select(night => crew.MostWork(person.Index, night));
            total += most.OrderDescending().Take(person.MaxNights).Sum(minutes => (long)minutes);
        }
        return total;
    }
}
