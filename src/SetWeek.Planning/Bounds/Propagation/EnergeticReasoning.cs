using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// Energetic reasoning (Erschler and Lopez 1990, from memory) over ranges of consecutive nights. Demand is the person-minutes
/// that only a Hall set can work, of the stints that lie in the range in every valid plan. Capacity is the minutes that the
/// set's people can work there. Equipment is treated in the same way, against the lengths of the nights. Begun work is left out
/// of the demand and does not reduce the capacity.
/// </summary>
internal sealed class EnergeticReasoning(
    Problem problem, CrewShiftWindows shiftWindows, StartDomains startDomains, StintWindowPropagation windows, HallSets hallSets)
{
    /// <summary>
    /// A range of nights in which the demand on a set of people, or on a kind of equipment, exceeds its capacity. Demand and
    /// capacity are in person-minutes or piece-minutes. Equipment is null for a set of people.
    /// </summary>
    internal sealed record CapacityShortage(ulong Set, int? Equipment, int FirstNight, int LastNight, long Demand, long Capacity);

    /// <summary>The shortage found in the shortest range of nights; null where there is none.</summary>
    public CapacityShortage? FoundShortage { get; private set; }

    /// <summary>Lower bound on the number of nights: fewer nights lack the capacity for the work that must be done.</summary>
    public int NightBound { get; private set; }

    private readonly int[] tails = Tails(problem, startDomains, windows);

    /// <summary>Lower bound on the finish, in minutes after the first night opens.</summary>
    public int FinishBound { get; private set; }

    public EnergeticReasoning Propagate()
    {
        foreach (var set in hallSets.Sets)
            Propagate(set, null, (stint, mode, minutes) => (long)minutes * hallSets.MinPeopleFrom(set, mode, stint.Task),
                range => MaxWorkMinutes(set, range), System.Numerics.BitOperations.PopCount(set));
        for (var equipment = 0; equipment < problem.EquipmentCapacities.Count; equipment++)
        {
            var (index, count) = (equipment, problem.EquipmentCapacities[equipment]);
            Propagate(0, index,
                (_, mode, minutes) => (long)minutes * mode.Equipment.Where(use => use.Equipment == index).Sum(use => use.Count),
                range => Enumerable.Range(range.First, range.Last - range.First + 1)
                    .Sum(night => (long)count * problem.Nights[night].Span.Minutes), count);
        }
        return this;
    }

    private void Propagate(ulong set, int? equipment, Func<Stint, ActivityMode, int, long> demandOf,
        Func<(int First, int Last), long> capacityOf, int peopleOrPieces)
    {
        var count = problem.Nights.Count;
        // Demand by first and last night of the stints' domains.
        var demand = new long[count, count];
        var demandingStints = new List<int>();
        foreach (var stint in problem.Stints)
        {
            if (!windows.Placement.AlwaysPlaced(stint.Task.Display) || problem.Facts?.BegunWork[stint.Index] is not null
                || !windows.HasNight(stint.Index)) continue;
            var least = startDomains.AllowedModes(stint)
                .Min(mode => demandOf(stint, stint.Task.Modes[mode], problem.MinutesOf(stint, mode)));
            demand[windows.FirstNight(stint.Index), windows.LastNight(stint.Index)] += least;
            if (least > 0) demandingStints.Add(stint.Index);
        }
        if (demandingStints.Count == 0) return;
        var total = 0L;
        for (var first = count - 1; first >= 0; first--)
        {
            var inside = 0L;
            for (var last = first; last < count; last++)
            {
                for (var from = first; from <= last; from++) inside += demand[from, last];
                if (inside == 0) continue;
                var capacity = capacityOf((first, last));
                if (inside > capacity
                    && (FoundShortage is null || last - first < FoundShortage.LastNight - FoundShortage.FirstNight))
                    FoundShortage = new(set, equipment, first, last, inside, capacity);
            }
            if (first == 0) total = inside;
        }
        RaiseBounds(total, capacityOf, peopleOrPieces, demandingStints);
    }

    /// <summary>
    /// Finds the first night by whose end the capacity holds all of the demand. What the earlier nights cannot hold lies in
    /// that night or later. It starts no earlier than the first stint can, is worked by the whole set without pause, and is
    /// followed by at least the shortest tail.
    /// </summary>
    private void RaiseBounds(
        long total, Func<(int First, int Last), long> capacityOf, int peopleOrPieces, List<int> demandingStints)
    {
        for (var night = 0; night < problem.Nights.Count; night++)
        {
            if (total > capacityOf((0, night))) continue;
            var left = total - (night == 0 ? 0 : capacityOf((0, night - 1)));
            if (left <= 0) return;
            NightBound = Math.Max(NightBound, night + 1);
            var first = demandingStints.Min(stint => windows.WindowOf(stint, night)?.EarliestStart ?? Problem.Never);
            if (first < Problem.Never)
                FinishBound = Math.Max(FinishBound, first + (int)((left + peopleOrPieces - 1) / peopleOrPieces)
                    + demandingStints.Min(stint => tails[stint]));
            return;
        }
    }

    /// <summary>By stint: least minutes between its end and the end of all work that must follow it. 0 in a re-plan.</summary>
    private static int[] Tails(Problem problem, StartDomains startDomains, StintWindowPropagation windows)
    {
        var tails = new int[problem.Stints.Count];
        for (var (round, changed) = (0, true); changed && round < tails.Length; round++)
        {
            changed = false;
            foreach (var precedence in windows.Precedences)
            {
                if (!windows.Binds(precedence, precedence.Predecessor) || problem.Facts is not null) continue;
                var after = problem.Stints[precedence.Successor];
                var tail = precedence.Lag + startDomains.AllowedModes(after).Min(mode => problem.MinutesOf(after, mode))
                    + tails[precedence.Successor];
                if (tail <= tails[precedence.Predecessor]) continue;
                (tails[precedence.Predecessor], changed) = (tail, true);
            }
        }
        return tails;
    }

    private long MaxWorkMinutes(ulong set, (int First, int Last) range)
    {
        var total = 0L;
        foreach (var person in problem.Crew.Where(person => HallSets.Contains(set, person.Index)))
        {
            var byNight = Enumerable.Range(range.First, range.Last - range.First + 1)
                .Select(night => shiftWindows.MaxWorkMinutes(person.Index, night));
            total += byNight.OrderDescending().Take(person.MaxNights).Sum(minutes => (long)minutes);
        }
        return total;
    }
}
