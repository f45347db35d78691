using System.Numerics;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>Who does a job at a moment: the cheapest people for its seats, matched so that each seat is filled.</summary>
internal sealed class Crewing(Image image, PersonNight personNight)
{
    private readonly double[] prices = new double[image.People];
    private readonly int[] seatOf = new int[image.People];

    /// <summary>By night: people who get no work there for now, a bit each.</summary>
    public ulong[] Kept { get; } = new ulong[image.Nights];

    /// <summary>Fills hands with a person a seat out of those free; the price, or null where it cannot be staffed.</summary>
    public double? Staff(Draft draft, Tariff tariff, Job job, Manner manner, int night, int start, ulong free, Span<byte> hands)
    {
        var open = 0UL;
        for (var left = free & manner.Eligible; left != 0; left &= left - 1)
        {
            var person = BitOperations.TrailingZeroCount(left);
            if (Price(draft, tariff, job, person, night, start, start + manner.Slots) is not { } price) continue;
            prices[person] = price;
            seatOf[person] = -1;
            open |= 1UL << person;
        }
        if (BitOperations.PopCount(open) < manner.Seats.Length) return null;
        var total = 0.0;
        for (var seat = 0; seat < manner.Seats.Length; seat++)
            if (!Seated(manner, seat, open, 0UL, hands, out _)) return null;
        for (var seat = 0; seat < manner.Seats.Length; seat++) total += prices[hands[seat]];
        return total;
    }

    /// <summary>
    /// The cheapest free person takes the seat; where nobody is free, somebody gives up theirs for another (Kuhn 1955).
    /// </summary>
    private bool Seated(Manner manner, int seat, ulong open, ulong asked, Span<byte> hands, out ulong askedAfter)
    {
        var candidates = manner.Seats[seat].Eligible & open & ~asked;
        var best = -1;
        for (var left = candidates; left != 0; left &= left - 1)
        {
            var person = BitOperations.TrailingZeroCount(left);
            if (seatOf[person] < 0 && (best < 0 || prices[person] < prices[best])) best = person;
        }
        askedAfter = asked;
        if (best >= 0) return Sit(best, seat, hands);
        for (var left = candidates; left != 0; left &= left - 1)
        {
            var person = BitOperations.TrailingZeroCount(left);
            if ((askedAfter & 1UL << person) != 0) continue;
            askedAfter |= 1UL << person;
            if (Seated(manner, seatOf[person], open, askedAfter, hands, out askedAfter)) return Sit(person, seat, hands);
        }
        return false;
    }

    private bool Sit(int person, int seat, Span<byte> hands)
    {
        seatOf[person] = seat;
        hands[seat] = (byte)person;
        return true;
    }

    /// <summary>
    /// What it adds to a person's pay, and the little things that decide between equals; null where they cannot.
    /// </summary>
    private double? Price(Draft draft, Tariff tariff, Job job, int person, int night, int start, int end)
    {
        if ((Kept[night] & 1UL << person) != 0) return null;
        var minutes = (end - start) * image.Grid;
        var price = minutes * (tariff.Effort * image.Rates[person] + tariff.Spare * image.Demand[person] * image.MeanRate);
        if (tariff.Stir > 0 && image.Publication.Start(job.Index) >= 0 && !image.Publication.Was(job.Index, person))
            price += tariff.Stir;
        if (Extended(draft, person, night, start, end) is not { } shift) return null;
        var at = person * image.Nights + night;
        var (from, to) = (draft.ShiftFrom[at], draft.ShiftTo[at]);
        if (shift.From == from && shift.To == to) return price;
        var before = from < 0 ? 0 : personNight.PaidSlots(person, to - from);
        var added = (personNight.PaidSlots(person, shift.To - shift.From) - before) * image.Grid;
        if (from < 0) price += tariff.OpenShift;
        if (tariff.Change > 0) price += tariff.Change * (from < 0 ? 2 : 1);
        return price + tariff.Pay * Pay(draft, person, added);
    }

    /// <summary>The person's shift with some more work in it; null where there is none.</summary>
    public (int From, int To)? Extended(Draft draft, int person, int night, int start, int end)
    {
        var at = person * image.Nights + night;
        var (from, to) = (draft.ShiftFrom[at], draft.ShiftTo[at]);
        if (from >= 0 && from <= start && end <= to
            && personNight.BreakFits(draft, person, night, from, to, start, end))
            return (from, to);
        var (inFrom, inTo) = (0, 0);
        if (draft.Keyholder[night] is >= 0 and var keyholder && keyholder != person)
            (inFrom, inTo) = (draft.ShiftFrom[keyholder * image.Nights + night], draft.ShiftTo[keyholder * image.Nights + night]);
        var (first, last) = from < 0 ? (start, end) : (Math.Min(from, start), Math.Max(to, end));
        if (personNight.Fit(draft, person, night, first, last, inFrom, inTo, start, end, out var newFrom,
            out var newTo))
            return (newFrom, newTo);
        var work = draft.BusyRow(person, night);
        var begin = Slots.First(work);
        if (from < 0 || draft.Keyholder[night] == person || begin == from) return null;
        (first, last) = begin < 0 ? (start, end) : (Math.Min(begin, start), Math.Max(Slots.Last(work) + 1, end));
        return personNight.Fit(draft, person, night, first, last, inFrom, inTo, start, end, out newFrom, out newTo)
            ? (newFrom, newTo) : null;
    }

    /// <summary>Pay of more minutes for a person, overtime counted.</summary>
    public double Pay(Draft draft, int person, int minutes)
    {
        var pay = (double)minutes * image.Rates[person];
        if (image.Problem.Rules.OvertimeAfterMinutes is not { } after) return pay;
        var already = image.Problem.Crew[person].MinutesAlready;
        var mark = Math.Max(after, already);
        var before = Math.Max(0, already + draft.Paid[person] - mark);
        var then = Math.Max(0, already + draft.Paid[person] + minutes - mark);
        return pay + (then - before) * (double)image.Rates[person] * ((image.Problem.Rules.OvertimePercent ?? 100) - 100) / 100;
    }
}
