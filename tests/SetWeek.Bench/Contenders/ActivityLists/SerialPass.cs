using SetWeek.Model.Problems;

namespace SetWeek.Bench.Contenders.ActivityLists;

/// <summary>
/// The serial scheme on a long night, from its beginning or, mirrored, from its end: each job in turn to the first place at
/// which it fits. Afterwards the order is that in which the other direction takes the jobs, what ended last first.
/// </summary>
internal sealed class SerialPass
{
    private readonly LongNight night;
    private readonly Timeline timeline;
    private readonly int[] start, end, way;
    private readonly ulong[][] hands;
    private readonly Comparison<int> lastEndFirst;

    public SerialPass(LongNight night)
    {
        this.night = night;
        timeline = new Timeline(night);
        (start, end, way) = (new int[night.Count], new int[night.Count], new int[night.Count]);
        hands = [.. night.Ways.Select(ways => new ulong[ways.Max(way => way.Seats.Length)])];
        lastEndFirst = (one, other) => end[one] != end[other] ? end[other] - end[one]
            : start[one] != start[other] ? start[other] - start[one] : one - other;
    }

    /// <summary>Slots until all is done.</summary>
    public int Finish { get; private set; }

    /// <summary>What the last pass built; only one from the beginning is a plan.</summary>
    public Schedule Schedule() => night.ScheduleOf(start, way, hands);

    /// <param name="order">All jobs: no job before one that it waits for or, from the end, that waits for it.</param>
    /// <param name="back">From the end; kits are not minded then.</param>
    public void Run(int[] order, bool back)
    {
        timeline.Clear();
        Finish = 0;
        foreach (var job in order)
        {
            var from = back ? 0 : night.Earliest[job];
            foreach (var tie in (back ? night.After : night.Before)[job]) from = Math.Max(from, end[tie.Job] + tie.Lag);
            Place(job, from);
            Finish = Math.Max(Finish, end[job]);
        }
        order.AsSpan().Sort(lastEndFirst);
    }

    /// <summary>In the way that is done first.</summary>
    private void Place(int job, int from)
    {
        end[job] = int.MaxValue;
        for (var index = 0; index < night.Ways[job].Length; index++)
        {
            var doing = night.Ways[job][index];
            var at = timeline.Find(doing, from);
            if (at + doing.Slots >= end[job]) continue;
            (way[job], start[job], end[job]) = (index, at, at + doing.Slots);
            timeline.Seated(doing).CopyTo(hands[job]);
        }
        var taken = night.Ways[job][way[job]];
        timeline.Take(taken, start[job], hands[job].AsSpan(0, taken.Seats.Length));
    }
}
