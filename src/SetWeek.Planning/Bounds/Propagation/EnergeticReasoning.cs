using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// Work against hands, summed over ranges of nights: minutes x people that only a set of people can do, of stints that lie
/// in the range in every valid plan, against the minutes that the set can be at work there. The same for pieces of
/// equipment against the nights' lengths. Begun work is not counted, nor is it taken off what people can do.
/// </summary>
internal sealed class EnergeticReasoning(Problem problem, CrewShiftWindows shiftWindows, StartDomains startDomains, StintWindowPropagation windows, HallSets hallSets)
{
    /// <summary>A set of people, or a piece of equipment, that a range of nights asks more of than it has.</summary>
    internal sealed record CapacityShortage(ulong Set, int? Equipment, int FirstNight, int LastNight, long Demand, long Capacity);

    public CapacityShortage? FoundShortage { get; private set; }

    /// <summary>Position, from 1, of the earliest night by which all that is sure to be done can be.</summary>
    public int NightBound { get; private set; }

    private readonly int[] tails = Tails(problem, startDomains, windows);

    /// <summary>Minutes after the first opens by which all that is sure can be done.</summary>
    public int FinishBound { get; private set; }

    public EnergeticReasoning Propagate()
    {
        foreach (var set in hallSets.Sets)
            Propagate(set, null, (stint, mode, minutes) => (long)minutes * hallSets.MinPeopleFrom(set, mode, stint.Task),
                range => MaxWorkMinutes(set, range), System.Numerics.BitOperations.PopCount(set));
        for (var piece = 0; piece < problem.EquipmentCapacities.Count; piece++)
        {
            var (index, count) = (piece, problem.EquipmentCapacities[piece]);
            Propagate(0, index, (_, mode, minutes) => (long)minutes * mode.Equipment.Where(use => use.Equipment == index)
                .Sum(use => use.Count),
                range => Enumerable.Range(range.First, range.Last - range.First + 1)
                    .Sum(night => (long)count * problem.Nights[night].Span.Minutes), count);
        }
        return this;
    }

    private void Propagate(ulong set, int? equipment, Func<Stint, ActivityMode, int, long> demandOf, Func<(int First, int Last), long> capacityOf,
        int peopleOrPieces)
    {
        var count = problem.Nights.Count;
        var asked = new long[count, count];
        var asking = new List<int>();
        foreach (var stint in problem.Stints)
        {
            if (!windows.Placement.AlwaysPlaced(stint.Task.Display) || problem.Facts?.BegunWork[stint.Index] is not null
                || !windows.HasNight(stint.Index)) continue;
            var least = startDomains.AllowedModes(stint).Min(mode => demandOf(stint, stint.Task.Modes[mode], problem.MinutesOf(stint, mode)));
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
                var can = capacityOf((first, last));
                if (inside > can && (FoundShortage is null || last - first < FoundShortage.LastNight - FoundShortage.FirstNight))
                    FoundShortage = new(set, equipment, first, last, inside, can);
            }
            if (first == 0) total = inside;
        }
        RaiseBounds(total, capacityOf, peopleOrPieces, asking);
    }

    /// <summary>
    /// How far into the nights the whole of the work reaches, everybody of the set working without a pause from the first
    /// moment that any of it can begin in its last night; and what must follow the last of it follows.
    /// </summary>
    private void RaiseBounds(long total, Func<(int First, int Last), long> capacityOf, int peopleOrPieces, List<int> demandingStints)
    {
        for (var night = 0; night < problem.Nights.Count; night++)
        {
            if (total > capacityOf((0, night))) continue;
            var left = total - (night == 0 ? 0 : capacityOf((0, night - 1)));
            if (left <= 0) return;
            NightBound = Math.Max(NightBound, night + 1);
            var first = demandingStints.Min(stint => windows.WindowOf(stint, night)?.EarliestStart ?? Problem.Never);
            if (first < Problem.Never)
                FinishBound = Math.Max(FinishBound, first + (int)((left + peopleOrPieces - 1) / peopleOrPieces) + demandingStints.Min(stint => tails[stint]));
            return;
        }
    }

    /// <summary>By stint: least minutes of what must still follow its end in every plan.</summary>
    private static int[] Tails(Problem problem, StartDomains startDomains, StintWindowPropagation windows)
    {
        var tails = new int[problem.Stints.Count];
        for (var (round, changed) = (0, true); changed && round < tails.Length; round++)
        {
            changed = false;
            foreach (var edge in windows.Precedences)
            {
                if (!windows.Binds(edge, edge.Predecessor) || problem.Facts is not null) continue;
                var after = problem.Stints[edge.Successor];
                var tail = edge.Lag + startDomains.AllowedModes(after).Min(mode => problem.MinutesOf(after, mode)) + tails[edge.Successor];
                if (tail <= tails[edge.Predecessor]) continue;
                (tails[edge.Predecessor], changed) = (tail, true);
            }
        }
        return tails;
    }

    private long MaxWorkMinutes(ulong set, (int First, int Last) range)
    {
        var total = 0L;
        foreach (var person in problem.Crew.Where(person => HallSets.Contains(set, person.Index)))
        {
            var most = Enumerable.Range(range.First, range.Last - range.First + 1)
                .Select(night => shiftWindows.MaxWorkMinutes(person.Index, night));
            total += most.OrderDescending().Take(person.MaxNights).Sum(minutes => (long)minutes);
        }
        return total;
    }
}
