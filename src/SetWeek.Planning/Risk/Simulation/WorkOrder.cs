using SetWeek.Model.Problems;
using SetWeek.Planning.Risk.Distributions;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>
/// A plan as the order in which it is worked: pieces by their planned start (those begun first, the final floor clean after all
/// of its night), each with what it waits for. Made once; every run goes through it.
/// </summary>
internal sealed class WorkOrder
{
    private readonly Dictionary<int, int> byStint = [];

    public WorkOrder(Problem problem, Schedule schedule, RiskOptions options)
    {
        Problem = problem;
        GraceMinutes = options.GraceMinutes;
        Room = new NightRoom(problem, schedule);
        Pools = new Pools(problem);
        var planned = new PlannedPieces(problem, schedule, Pools, new Durations(problem, options)).InOrder();
        for (var index = 0; index < planned.Count; index++)
            if (planned[index].Stint >= 0) byStint[planned[index].Stint] = index;
        var pieces = new Piece[planned.Count];
        // Backwards: what follows in the same night is known when the piece before it asks.
        for (var index = pieces.Length - 1; index >= 0; index--) pieces[index] = Linked(planned, pieces, index);
        Pieces = pieces;
        Turns = new Turns(problem, pieces);
    }

    public Problem Problem { get; }

    /// <summary>How much later than the rules allow work may be expected to end and is begun all the same.</summary>
    public int GraceMinutes { get; }
    public NightRoom Room { get; }
    public Pools Pools { get; }
    public IReadOnlyList<Piece> Pieces { get; }
    public Turns Turns { get; }

    /// <summary>The piece that a task ends with; null where it is not planned.</summary>
    public int? LastPieceOf(Activity task) => byStint.TryGetValue(task.LastStint, out var piece) ? piece : null;

    private Piece Linked(IReadOnlyList<Piece> planned, Piece[] after, int index)
    {
        var piece = planned[index];
        if (piece.Kind == PieceKind.Break) return piece;
        var arcs = new List<Arc>();
        var sameNight = -1;
        if (piece.Kind == PieceKind.Stint)
        {
            var task = Problem.Activities[piece.Task];
            if (piece.Stint > task.FirstStint && byStint.TryGetValue(piece.Stint - 1, out var before) && before < index)
                arcs.Add(new Arc(before, 0));
            foreach (var link in task.After)
            {
                if (LastPieceOf(Problem.Activities[link.Task]) is not { } earlier || earlier >= index) continue;
                arcs.Add(new Arc(earlier, link.DryMinutes));
                // Once the night is over there is nothing left to be done in it.
                var over = Problem.Nights[planned[earlier].Night].Closes <= (Problem.Facts?.Now ?? -Problem.Never);
                if (link.SameNight && !over) sameNight = earlier;
            }
        }
        arcs.AddRange(Closers(planned, index));
        int[] followers = [.. Enumerable.Range(index + 1, after.Length - index - 1)
            .Where(later => after[later].SameNightAs == index)];
        return piece with
        {
            Arcs = arcs,
            SameNightAs = sameNight,
            Tail = followers.Select(later => after[later])
                .Select(later => later.Arcs.First(arc => arc.From == index).Lag + later.Expected + later.Tail)
                .DefaultIfEmpty().Max(),
            // Where those who follow cannot come, neither can this one be put off to.
            StandIns = [.. piece.StandIns.Select((there, night) =>
                followers.All(later => after[later].StandIns[night] is not null) ? there : null)],
        };
    }

    /// <summary>
    /// Tasks that close the zone and were planned to end before this starts; a task that closes it waits for all before it.
    /// </summary>
    private IEnumerable<Arc> Closers(IReadOnlyList<Piece> planned, int index)
    {
        var piece = planned[index];
        if (piece.Kind == PieceKind.Begun) yield break;
        for (var earlier = 0; earlier < index; earlier++)
        {
            var other = planned[earlier];
            if (other.Zone != piece.Zone || other.Task == piece.Task || other.Zone < 0) continue;
            if (Closes(other) && (piece.PlannedFrom >= other.PlannedTo || piece.Kind == PieceKind.AddedCleanDown))
                yield return new Arc(earlier, Problem.Activities[other.Task].ClosesZone);
            else if (Closes(piece) && other.PlannedTo <= piece.PlannedFrom && !other.IsCleanDown)
                yield return new Arc(earlier, 0);
        }
    }

    private bool Closes(Piece piece) =>
        piece.Task >= 0 && Problem.Activities[piece.Task] is { ClosesZone: > 0 } task && piece.Stint == task.LastStint;
}
