using System.Numerics;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>Assigns cheap people to the skill requirements of an activity at a given start, by bipartite matching.</summary>
internal sealed class StaffMatching(CompactProblem compact, ShortestShift shortestShift)
{
    private readonly double[] personPrices = new double[compact.People];
    private readonly int[] requirementOf = new int[compact.People];

    /// <summary>For each night, a bit mask of the people who currently must not be given work in that night.</summary>
    public ulong[] ExcludedPeople { get; } = new ulong[compact.Nights];

    /// <summary>
    /// Chooses one of the free people for each requirement of the mode and writes them to <paramref name="people"/>. Returns the
    /// total of their prices, or null if the requirements cannot be met.
    /// </summary>
    public double? Match(PartialSchedule schedule, InsertionPrices prices, CompactActivity activity, CompactMode mode, int night,
        int start, ulong free, Span<byte> people)
    {
        var available = 0UL;
        for (var left = free & mode.Eligible; left != 0; left &= left - 1)
        {
            var person = BitOperations.TrailingZeroCount(left);
            if (PriceOf(schedule, prices, activity, person, night, start, start + mode.DurationSlots) is not { } price) continue;
            personPrices[person] = price;
            requirementOf[person] = -1;
            available |= 1UL << person;
        }
        if (BitOperations.PopCount(available) < mode.Requirements.Length) return null;
        var total = 0.0;
        for (var requirement = 0; requirement < mode.Requirements.Length; requirement++)
            if (!TryAssign(mode, requirement, available, 0UL, people, out _)) return null;
        for (var requirement = 0; requirement < mode.Requirements.Length; requirement++)
            total += personPrices[people[requirement]];
        return total;
    }

    /// <summary>
    /// Assigns the cheapest unassigned person. If everyone eligible is assigned, it looks for an augmenting path, which moves
    /// assigned people to other requirements (Kuhn 1955). The matching is feasible but not always the cheapest.
    /// </summary>
    private bool TryAssign(
        CompactMode mode, int requirement, ulong available, ulong visited, Span<byte> people, out ulong visitedAfter)
    {
        var candidates = mode.Requirements[requirement].Eligible & available & ~visited;
        var best = -1;
        for (var left = candidates; left != 0; left &= left - 1)
        {
            var person = BitOperations.TrailingZeroCount(left);
            if (requirementOf[person] < 0 && (best < 0 || personPrices[person] < personPrices[best])) best = person;
        }
        visitedAfter = visited;
        if (best >= 0) return Assign(best, requirement, people);
        for (var left = candidates; left != 0; left &= left - 1)
        {
            var person = BitOperations.TrailingZeroCount(left);
            if ((visitedAfter & 1UL << person) != 0) continue;
            visitedAfter |= 1UL << person;
            if (TryAssign(mode, requirementOf[person], available, visitedAfter, people, out visitedAfter))
                return Assign(person, requirement, people);
        }
        return false;
    }

    private bool Assign(int person, int requirement, Span<byte> people)
    {
        requirementOf[person] = requirement;
        people[requirement] = (byte)person;
        return true;
    }

    /// <summary>
    /// Price of a person's work in these slots: added pay, time worked and changes from the published plan. Null if the person
    /// cannot have a shift for it.
    /// </summary>
    private double? PriceOf(PartialSchedule schedule, InsertionPrices prices, CompactActivity activity, int person, int night,
        int start, int end)
    {
        if ((ExcludedPeople[night] & 1UL << person) != 0) return null;
        var minutes = (end - start) * compact.SlotMinutes;
        var price = minutes * (prices.WorkedTime * compact.Rates[person]
            + prices.Versatility * compact.Versatility[person] * compact.MeanRate);
        if (prices.Displaced > 0 && compact.Published.StartSlotOf(activity.Index) >= 0
            && !compact.Published.HasPerson(activity.Index, person))
            price += compact.Published.NightOf(activity.Index) == night ? prices.Displaced + prices.Shuffled : prices.Displaced;
        if (prices.Move > 0) price += prices.Move * schedule.AddedMoves(person, night, start, end, activity.Zone);
        if (prices.Handover > 0 && IsHandedOver(schedule, activity, person, night)) price += prices.Handover;
        if (ExtendedShift(schedule, person, night, start, end) is not { } shift) return null;
        var at = person * compact.Nights + night;
        var (from, to) = (schedule.ShiftFrom[at], schedule.ShiftTo[at]);
        if (shift.From == from && shift.To == to) return price;
        var before = from < 0 ? 0 : shortestShift.PaidSlots(person, to - from);
        var added = (shortestShift.PaidSlots(person, shift.To - shift.From) - before) * compact.SlotMinutes;
        if (from < 0) price += prices.NewShift;
        if (prices.Change > 0) price += prices.Change * (from < 0 ? 2 : 1);
        return price + prices.PayFactor * AddedPay(schedule, person, added);
    }

    /// <summary>True if the stint of the same task before or after this one lies in the night without the person.</summary>
    private bool IsHandedOver(PartialSchedule schedule, CompactActivity activity, int person, int night)
    {
        if (activity.Task < 0) return false;
        for (var other = activity.Index - 1; other <= activity.Index + 1; other += 2)
            if (other >= 0 && other < compact.Stints && compact.Activities[other].Task == activity.Task
                && schedule.Night[other] == night && !schedule.PeopleOf(other).Contains((byte)person)) return true;
        return false;
    }

    /// <summary>
    /// The person's shift with more work in it, preferably within the keyholder's shift; null if there is none. A shift that is
    /// longer than its work may be moved.
    /// </summary>
    public (int From, int To)? ExtendedShift(PartialSchedule schedule, int person, int night, int start, int end)
    {
        var at = person * compact.Nights + night;
        var (from, to) = (schedule.ShiftFrom[at], schedule.ShiftTo[at]);
        if (shortestShift.HoldsWork(schedule, person, night, start, end)) return (from, to);
        var (withinFrom, withinTo) = (0, 0);
        if (schedule.Keyholder[night] is >= 0 and var keyholder && keyholder != person)
        {
            var keyholderNight = keyholder * compact.Nights + night;
            (withinFrom, withinTo) = (schedule.ShiftFrom[keyholderNight], schedule.ShiftTo[keyholderNight]);
        }
        var (first, last) = from < 0 ? (start, end) : (Math.Min(from, start), Math.Max(to, end));
        if (shortestShift.TryFind(schedule, person, night, first, last, withinFrom, withinTo, start, end, out var newFrom,
            out var newTo))
            return (newFrom, newTo);
        var work = schedule.BusyRow(person, night);
        var begin = SlotSet.First(work);
        if (from < 0 || schedule.Keyholder[night] == person || begin == from) return null;
        (first, last) = begin < 0 ? (start, end) : (Math.Min(begin, start), Math.Max(SlotSet.Last(work) + 1, end));
        return shortestShift.TryFind(
            schedule, person, night, first, last, withinFrom, withinTo, start, end, out newFrom, out newTo)
            ? (newFrom, newTo) : null;
    }

    /// <summary>Pay of additional minutes for a person, overtime included, in minutes x rate.</summary>
    public double AddedPay(PartialSchedule schedule, int person, int minutes)
    {
        var pay = (double)minutes * compact.Rates[person];
        if (compact.Problem.Rules.OvertimeAfterMinutes is not { } after) return pay;
        var already = compact.Problem.Crew[person].MinutesAlready;
        var threshold = Math.Max(after, already);
        var overtimeBefore = Math.Max(0, already + schedule.PaidMinutes[person] - threshold);
        var overtimeAfter = Math.Max(0, already + schedule.PaidMinutes[person] + minutes - threshold);
        var percent = compact.Problem.Rules.OvertimePercent ?? 100;
        return pay + (overtimeAfter - overtimeBefore) * (double)compact.Rates[person] * (percent - 100) / 100;
    }
}
