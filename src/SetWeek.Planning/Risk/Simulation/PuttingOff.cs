using System.Numerics;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>
/// What no longer fits its night waits for the next one in which its people, or others with the skill, are on shift and in which
/// it fits when its turn comes. What fits no night is not done. One run at a time: this is the exception.
/// </summary>
internal sealed class PuttingOff(WorkOrder order, Slate slate)
{
    private readonly NightRoom room = order.Room;
    private readonly List<int> chosen = [];

    /// <summary>
    /// The crew begins a piece where, taking as long as is most likely, it ends while its people may stay, and leaves time for
    /// what must follow that night and for the clean-down; with grace, so much later, but for the under-18s. How long it will
    /// take nobody knows yet.
    /// </summary>
    public float LatestStart(Piece piece, int night, IReadOnlyList<int> people)
    {
        var latest = room.Ends[night] + order.GraceMinutes - piece.Tail - piece.CleanDownAfter;
        foreach (var person in people)
            latest = Math.Min(latest, room.Latest[person, night] + (order.Problem.Crew[person].Under18 ? 0 : order.GraceMinutes));
        return latest - piece.Expected;
    }

    /// <summary>
    /// Is it done in this night? What is to follow in the night of another piece is done there however late the night's work
    /// ends; where something else keeps it beyond that it cannot be.
    /// </summary>
    public bool MustFollow(Piece piece, int lane, int night, float start, float limit) =>
        slate.NightsOf(piece.SameNightAs)[lane] == night
        && (start <= limit || start < order.Problem.Nights[night].Closes || start <= slate.NightEnds.Times(night)[lane]);

    /// <param name="holder">What kept it from fitting its night: that is what it has waited for, whenever it is done.</param>
    public void Off(int index, int lane, int holder)
    {
        slate.Waiting[index] |= 1UL << lane;
        slate.NightsOf(index)[lane] = -1;
        slate.Ends.Put(index, lane, Lanes.Never, holder);
    }

    /// <summary>Does the final floor clean have to wait for something that was put off?</summary>
    public bool OthersWait(int last, int lane)
    {
        for (var index = 0; index < slate.Waiting.Length; index++)
            if (index != last && (slate.Waiting[index] >> lane & 1) != 0) return true;
        return false;
    }

    public void TakeTurns(int before)
    {
        foreach (var (index, night) in order.Turns.Before(before))
            for (var left = slate.Waiting[index]; left != 0; left &= left - 1)
                Try(index, night, BitOperations.TrailingZeroCount(left));
    }

    /// <summary>What still waits when all is through is not done.</summary>
    public void GiveUp()
    {
        for (var index = 0; index < slate.Waiting.Length; index++)
            for (var left = slate.Waiting[index]; left != 0; left &= left - 1)
            {
                var lane = BitOperations.TrailingZeroCount(left);
                slate.All.Raise(0, lane, Lanes.Never, index);
                if (order.Pieces[index].SameNightAs is >= 0 and var before && slate.NightsOf(before)[lane] >= 0)
                    slate.Unsecured |= 1UL << lane;
            }
    }

    private void Try(int index, int night, int lane)
    {
        var piece = order.Pieces[index];
        var ready = Ready(index, piece, lane);
        if (ready >= Lanes.Never || !Crewed(piece, night, lane)) return;
        var start = Start(piece, night, lane, ready);
        var limit = LatestStart(piece, night, chosen);
        var securing = piece.SameNightAs >= 0 && slate.NightsOf(piece.SameNightAs)[lane] == night;
        if (securing ? !MustFollow(piece, lane, night, start, limit) : start > limit) return;
        if (piece.SameNightAs >= 0 && !securing) slate.Unsecured |= 1UL << lane;
        slate.Waiting[index] &= ~(1UL << lane);
        Done(index, piece, night, lane, start + slate.MinutesOf(index)[lane], slate.Ends.Pieces(index)[lane]);
    }

    /// <summary>From when all that it waits for in whatever night is there.</summary>
    private float Ready(int index, Piece piece, int lane)
    {
        var ready = piece.NotBefore;
        foreach (var arc in piece.Arcs) ready = Math.Max(ready, slate.Ends.Times(arc.From)[lane] + arc.Lag);
        return !piece.Last ? ready : OthersWait(index, lane) ? Lanes.Never : Math.Max(ready, slate.All.Times(0)[lane]);
    }

    /// <summary>A clean-down that nobody planned, for work that was put off: by whoever is free first.</summary>
    public void CleanDown(int index, int lane, float ready, int holder)
    {
        var piece = order.Pieces[index];
        // Where nobody there can do it, it is done all the same and the night is the longer for it.
        if (!Crewed(piece, piece.Night, lane)) chosen.Clear();
        var start = ready;
        foreach (var person in chosen) Later(slate.People, slate.PersonRow(person, piece.Night), lane, ref start, ref holder);
        Done(index, piece, piece.Night, lane, start + slate.MinutesOf(index)[lane], holder);
    }

    /// <summary>Uses the units that are free first, and keeps a pool's units in the order in which they become free.</summary>
    public static void Take(Marks units, int first, int size, int count, int lane, float end, int piece)
    {
        // Those that stay free move up; the ones taken come in where their end belongs.
        for (var unit = 0; unit < size; unit++)
        {
            if (unit + count < size && units.Times(first + unit + count)[lane] <= end)
                units.Put(first + unit, lane, units.Times(first + unit + count)[lane], units.Pieces(first + unit + count)[lane]);
            else
            {
                Insert(unit);
                return;
            }
        }

        void Insert(int at)
        {
            for (var unit = at; unit < at + count; unit++) units.Put(first + unit, lane, end, piece);
        }
    }

    private float Start(Piece piece, int night, int lane, float ready)
    {
        var start = Math.Max(ready, room.Starts[night]);
        var nobody = Lanes.Nobody;
        foreach (var person in chosen) Later(slate.People, slate.PersonRow(person, night), lane, ref start, ref nobody);
        foreach (var use in piece.Uses)
            Later(slate.Units, slate.UnitRow(use.Pool, night) + use.Count - 1, lane, ref start, ref nobody);
        foreach (var ban in piece.Bans[night])
            if (start < ban.To && start + piece.Expected - order.GraceMinutes > ban.From) start = ban.To;
        return start;
    }

    /// <summary>
    /// Fills every place with whoever of those who could is free first; places with the least choice come first.
    /// </summary>
    private bool Crewed(Piece piece, int night, int lane)
    {
        chosen.Clear();
        if (piece.StandIns[night] is not { } standIns) return false;
        foreach (var place in standIns.Places)
        {
            var best = -1;
            foreach (var person in place)
                if (!chosen.Contains(person) && (best < 0 || FreeFrom(person) < FreeFrom(best))) best = person;
            if (best < 0) return false;
            chosen.Add(best);
        }
        return true;

        float FreeFrom(int person) => slate.People.Times(slate.PersonRow(person, night))[lane];
    }

    private void Done(int index, Piece piece, int night, int lane, float end, int holder)
    {
        slate.NightsOf(index)[lane] = night;
        slate.Ends.Put(index, lane, end, holder);
        foreach (var person in chosen) slate.People.Put(slate.PersonRow(person, night), lane, end, index);
        foreach (var use in piece.Uses)
            Take(slate.Units, slate.UnitRow(use.Pool, night), order.Pools.Sizes[use.Pool], use.Count, lane, end, index);
        slate.NightEnds.Raise(night, lane, end, index);
        slate.All.Raise(0, lane, end, index);
        if (!piece.IsCleanDown && !piece.Last) slate.Zones.Raise(slate.ZoneRow(piece.Zone, night), lane, end, index);
    }

    private static void Later(Marks marks, int row, int lane, ref float start, ref int holder)
    {
        if (marks.Times(row)[lane] <= start) return;
        start = marks.Times(row)[lane];
        holder = marks.Pieces(row)[lane];
    }
}
