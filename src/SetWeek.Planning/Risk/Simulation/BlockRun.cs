namespace SetWeek.Planning.Risk.Simulation;

/// <summary>
/// Works the order through, for a block of runs side by side: each piece starts as soon as what it waits for, its people, its
/// places and its night allow. Where in some runs it does not fit its night any more it is put off there, run by run.
/// </summary>
internal sealed class BlockRun
{
    private readonly WorkOrder order;
    private readonly NightRoom room;
    private readonly Slate slate;
    private readonly PuttingOff puttingOff;
    private readonly float[] times = new float[Lanes.Count], ends = new float[Lanes.Count];
    private readonly int[] holders = new int[Lanes.Count], fits = new int[Lanes.Count];

    public BlockRun(WorkOrder order)
    {
        this.order = order;
        room = order.Room;
        slate = new Slate(order);
        puttingOff = new PuttingOff(order, slate);
    }

    public Slate Work(int firstRun)
    {
        slate.Clear();
        for (var index = 0; index < order.Pieces.Count; index++)
        {
            puttingOff.TakeTurns(index);
            Work(index, order.Pieces[index], firstRun);
        }
        puttingOff.TakeTurns(order.Pieces.Count);
        puttingOff.GiveUp();
        return slate;
    }

    private void Work(int index, Piece piece, int firstRun)
    {
        piece.Duration.Fill(slate.MinutesOf(index), firstRun);
        Array.Fill(times, piece.NotBefore);
        Array.Fill(holders, Lanes.Nobody);
        slate.NightsOf(index).Fill(piece.Night);
        Array.Fill(fits, -1);
        switch (piece.Kind)
        {
            case PieceKind.Stint:
                WaitForOthers(piece);
                WaitForNight(piece);
                See(index, piece);
                break;
            case PieceKind.CleanDown:
                WaitForOthers(piece);
                WaitForNight(piece);
                WhereThereWasWork(piece);
                break;
            case PieceKind.AddedCleanDown:
                WaitForOthers(piece);
                Array.Fill(fits, 0);
                AddCleanDowns(index, piece);
                return;
            case PieceKind.Break:
                WaitForPeople(piece);
                break;
            default:
                break;
        }
        Lanes.Add(ends, times, slate.MinutesOf(index));
        Done(index, piece);
    }

    private void WaitForOthers(Piece piece)
    {
        foreach (var arc in piece.Arcs)
        {
            if (piece.IsCleanDown) WaitForCloser(arc, piece.Night);
            else Lanes.Raise(times, holders, slate.Ends.Times(arc.From), arc.Lag, arc.From);
        }
        if (piece.Last) Lanes.Raise(times, holders, slate.All.Times(0), slate.All.Pieces(0));
        if (piece.IsCleanDown)
        {
            var zone = slate.ZoneRow(piece.Zone, piece.Night);
            Lanes.Raise(times, holders, slate.Zones.Times(zone), slate.Zones.Pieces(zone));
        }
    }

    /// <summary>A clean-down stays in its night: what closes its zone in a later one, being put off, is not waited for.</summary>
    private void WaitForCloser(Arc arc, int night)
    {
        var closing = slate.NightsOf(arc.From);
        var ends = slate.Ends.Times(arc.From);
        for (var lane = 0; lane < Lanes.Count; lane++)
            if (closing[lane] >= 0 && closing[lane] <= night && ends[lane] + arc.Lag > times[lane])
                (times[lane], holders[lane]) = (ends[lane] + arc.Lag, arc.From);
    }

    private void WaitForNight(Piece piece)
    {
        Span<float> opens = stackalloc float[Lanes.Count];
        opens.Fill(room.Starts[piece.Night]);
        Lanes.Raise(times, holders, opens, 0, Lanes.Nobody);
        WaitForPeople(piece);
        foreach (var use in piece.Uses)
        {
            var unit = slate.UnitRow(use.Pool, piece.Night) + use.Count - 1;
            Lanes.Raise(times, holders, slate.Units.Times(unit), slate.Units.Pieces(unit));
        }
        if (piece.Bans.Count > 0)
            foreach (var ban in piece.Bans[piece.Night]) Lanes.Hop(times, holders, ban, piece.Expected - order.GraceMinutes);
    }

    private void WaitForPeople(Piece piece)
    {
        foreach (var person in piece.People)
        {
            var row = slate.PersonRow(person, piece.Night);
            Lanes.Raise(times, holders, slate.People.Times(row), slate.People.Pieces(row));
        }
    }

    /// <summary>In which lanes it still fits; in the others it is put off.</summary>
    private void See(int index, Piece piece)
    {
        var limit = puttingOff.LatestStart(piece, piece.Night, piece.People);
        for (var lane = 0; lane < Lanes.Count; lane++)
        {
            if (piece.SameNightAs < 0 ? times[lane] <= limit && !(piece.Last && puttingOff.OthersWait(index, lane))
                : puttingOff.MustFollow(piece, lane, piece.Night, times[lane], limit)) continue;
            fits[lane] = 0;
            puttingOff.Off(index, lane, holders[lane]);
        }
    }

    /// <summary>A clean-down is done where its zone was worked in; it follows that work however late that is.</summary>
    private void WhereThereWasWork(Piece piece)
    {
        var worked = slate.Zones.Times(slate.ZoneRow(piece.Zone, piece.Night));
        for (var lane = 0; lane < Lanes.Count; lane++) fits[lane] = worked[lane] > Lanes.None ? -1 : 0;
    }

    private void AddCleanDowns(int index, Piece piece)
    {
        var worked = slate.Zones.Times(slate.ZoneRow(piece.Zone, piece.Night));
        slate.Ends.Times(index).Fill(Lanes.None);
        for (var lane = 0; lane < Lanes.Count; lane++)
            if (worked[lane] > Lanes.None) puttingOff.CleanDown(index, lane, times[lane], holders[lane]);
    }

    /// <summary>Enters what was done, in the lanes in which it was.</summary>
    private void Done(int index, Piece piece)
    {
        if (piece.Kind == PieceKind.CleanDown) slate.Ends.Times(index).Fill(Lanes.None);
        Lanes.Put(slate.Ends.Times(index), fits, ends);
        for (var lane = 0; lane < Lanes.Count; lane++)
            if (fits[lane] != 0) slate.Ends.Pieces(index)[lane] = holders[lane];
        foreach (var person in piece.People)
        {
            var row = slate.PersonRow(person, piece.Night);
            Lanes.Put(slate.People.Times(row), fits, ends);
            Lanes.Put(slate.People.Pieces(row), fits, index);
        }
        if (!piece.IsWork) return;
        foreach (var use in piece.Uses) Take(use, index, piece.Night);
        // In the other lanes this raises nothing.
        for (var lane = 0; lane < Lanes.Count; lane++)
            if (fits[lane] == 0) ends[lane] = Lanes.None;
        Lanes.Raise(slate.NightEnds.Times(piece.Night), slate.NightEnds.Pieces(piece.Night), ends, 0, index);
        Lanes.Raise(slate.All.Times(0), slate.All.Pieces(0), ends, 0, index);
        if (piece.IsCleanDown || piece.Last) return;
        var zone = slate.ZoneRow(piece.Zone, piece.Night);
        Lanes.Raise(slate.Zones.Times(zone), slate.Zones.Pieces(zone), ends, 0, index);
    }

    private void Take(Use use, int index, int night)
    {
        var (first, size) = (slate.UnitRow(use.Pool, night), order.Pools.Sizes[use.Pool]);
        for (var lane = 0; lane < Lanes.Count; lane++)
            if (fits[lane] != 0) PuttingOff.Take(slate.Units, first, size, use.Count, lane, ends[lane], index);
    }
}
