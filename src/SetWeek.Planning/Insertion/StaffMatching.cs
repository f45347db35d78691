using System.Numerics;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>Who does a job at a moment: the cheapest people for its seats, matched so that each seat is filled.</summary>
internal sealed class StaffMatching(CompactProblem compact, ShortestShift shortestShift)
{
    private readonly double[] personPrices = new double[compact.People];
    private readonly int[] requirementOf = new int[compact.People];

    /// <summary>By night: people who get no work there for now, a bit each.</summary>
    public ulong[] ExcludedPeople { get; } = new ulong[compact.Nights];

    /// <summary>Fills hands with a person a seat out of those free; the price, or null where it cannot be staffed.</summary>
    public double? Match(PartialSchedule schedule, InsertionPrices prices, CompactActivity activity, CompactMode mode, int night, int start, ulong free, Span<byte> people)
    {
        var open = 0UL;
        for (var left = free & mode.Eligible; left != 0; left &= left - 1)
        {
            var person = BitOperations.TrailingZeroCount(left);
            if (PriceOf(schedule, prices, activity, person, night, start, start + mode.DurationSlots) is not { } price) continue;
            personPrices[person] = price;
            requirementOf[person] = -1;
            open |= 1UL << person;
        }
        if (BitOperations.PopCount(open) < mode.Requirements.Length) return null;
        var total = 0.0;
        for (var seat = 0; seat < mode.Requirements.Length; seat++)
            if (!TryAssign(mode, seat, open, 0UL, people, out _)) return null;
        for (var seat = 0; seat < mode.Requirements.Length; seat++) total += personPrices[people[seat]];
        return total;
    }

    /// <summary>
    /// The cheapest free person takes the seat; where nobody is free, somebody gives up theirs for another (Kuhn 1955).
    /// </summary>
    private bool TryAssign(CompactMode mode, int requirement, ulong available, ulong visited, Span<byte> people, out ulong visitedAfter)
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
            if (TryAssign(mode, requirementOf[person], available, visitedAfter, people, out visitedAfter)) return Assign(person, requirement, people);
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
    /// What it adds to a person's pay, and the little things that decide between equals; null where they cannot.
    /// </summary>
    private double? PriceOf(PartialSchedule schedule, InsertionPrices prices, CompactActivity activity, int person, int night, int start, int end)
    {
        if ((ExcludedPeople[night] & 1UL << person) != 0) return null;
        var minutes = (end - start) * compact.SlotMinutes;
        var price = minutes * (prices.WorkedTime * compact.Rates[person] + prices.Versatility * compact.Versatility[person] * compact.MeanRate);
        if (prices.ReshuffledWork > 0 && compact.Published.StartSlotOf(activity.Index) >= 0 && !compact.Published.HasPerson(activity.Index, person))
            price += prices.ReshuffledWork;
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

    /// <summary>The person's shift with some more work in it; null where there is none.</summary>
    public (int From, int To)? ExtendedShift(PartialSchedule schedule, int person, int night, int start, int end)
    {
        var at = person * compact.Nights + night;
        var (from, to) = (schedule.ShiftFrom[at], schedule.ShiftTo[at]);
        if (from >= 0 && from <= start && end <= to
            && shortestShift.BreakFits(schedule, person, night, from, to, start, end))
            return (from, to);
        var (inFrom, inTo) = (0, 0);
        if (schedule.Keyholder[night] is >= 0 and var keyholder && keyholder != person)
            (inFrom, inTo) = (schedule.ShiftFrom[keyholder * compact.Nights + night], schedule.ShiftTo[keyholder * compact.Nights + night]);
        var (first, last) = from < 0 ? (start, end) : (Math.Min(from, start), Math.Max(to, end));
        if (shortestShift.TryFind(schedule, person, night, first, last, inFrom, inTo, start, end, out var newFrom,
            out var newTo))
            return (newFrom, newTo);
        var work = schedule.BusyRow(person, night);
        var begin = SlotSet.First(work);
        if (from < 0 || schedule.Keyholder[night] == person || begin == from) return null;
        (first, last) = begin < 0 ? (start, end) : (Math.Min(begin, start), Math.Max(SlotSet.Last(work) + 1, end));
        return shortestShift.TryFind(schedule, person, night, first, last, inFrom, inTo, start, end, out newFrom, out newTo)
            ? (newFrom, newTo) : null;
    }

    /// <summary>Pay of more minutes for a person, overtime counted.</summary>
    public double AddedPay(PartialSchedule schedule, int person, int minutes)
    {
        var pay = (double)minutes * compact.Rates[person];
        if (compact.Problem.Rules.OvertimeAfterMinutes is not { } after) return pay;
        var already = compact.Problem.Crew[person].MinutesAlready;
        var mark = Math.Max(after, already);
        var before = Math.Max(0, already + schedule.PaidMinutes[person] - mark);
        var then = Math.Max(0, already + schedule.PaidMinutes[person] + minutes - mark);
        return pay + (then - before) * (double)compact.Rates[person] * ((compact.Problem.Rules.OvertimePercent ?? 100) - 100) / 100;
    }
}
