using SetWeek.Model.Problems;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>
/// When work that was put off gets its turn in a later night: before what waits for it there, before its zone is cleaned down, or
/// else when the rest of that night's work is done. Which piece that is before follows from the plan alone.
/// </summary>
internal sealed class Turns
{
    private readonly List<Turn>[] before;

    public Turns(Problem problem, IReadOnlyList<Piece> pieces)
    {
        before = [.. Enumerable.Range(0, pieces.Count + 1).Select(_ => new List<Turn>())];
        var waiting = pieces.Select(_ => new List<int>()).ToArray();
        for (var later = 0; later < pieces.Count; later++)
            foreach (var arc in pieces[later].Arcs) waiting[arc.From].Add(later);
        foreach (var night in problem.Nights)
        {
            var turn = new int[pieces.Count];
            // Backwards: what waits for a piece and would be put off with it has its turn no sooner than the piece itself.
            for (var index = pieces.Count - 1; index >= 0; index--)
                turn[index] = Earliest(pieces, waiting[index], turn, index, night.Index);
            for (var index = 0; index < pieces.Count; index++)
            {
                if (pieces[index].Kind != PieceKind.Stint || pieces[index].Night >= night.Index) continue;
                before[turn[index]].Add(new Turn(index, night.Index));
                // What belongs to the same night is done at once, if it can be.
                if (pieces[index].SameNightAs is >= 0 and var secured && turn[secured] < turn[index])
                    before[turn[secured]].Add(new Turn(index, night.Index));
            }
        }
    }

    /// <summary>
    /// Turns before a piece, or after all of them; of one night after another, in the order of the pieces put off.
    /// </summary>
    public IReadOnlyList<Turn> Before(int index) => before[index];

    private static int Earliest(IReadOnlyList<Piece> pieces, List<int> waiting, int[] turn, int index, int night)
    {
        var earliest = End(pieces, night, pieces[index].Last);
        foreach (var later in waiting)
        {
            var piece = pieces[later];
            if (piece.Night == night && !piece.IsCleanDown) earliest = Math.Min(earliest, later);
            else if (piece.Night < night && piece.Kind == PieceKind.Stint) earliest = Math.Min(earliest, turn[later]);
        }
        if (pieces[index].Last) return earliest;
        for (var later = index + 1; later < earliest; later++)
        {
            var piece = pieces[later];
            if (piece.Kind == PieceKind.CleanDown && piece.Night == night && piece.Zone == pieces[index].Zone) return later;
        }
        return earliest;
    }

    /// <summary>
    /// The piece before which a night's work, but for added clean-downs and the final floor clean, is done; the latter after
    /// those.
    /// </summary>
    private static int End(IReadOnlyList<Piece> pieces, int night, bool last)
    {
        for (var index = 0; index < pieces.Count; index++)
        {
            var piece = pieces[index];
            if (piece.Kind == PieceKind.Begun) continue;
            if (piece.Night > night) return index;
            if (!last && piece.Night == night && (piece.Kind == PieceKind.AddedCleanDown || piece.Last)) return index;
        }
        return pieces.Count;
    }
}

/// <summary>A piece that may be waiting, and the night in which it is then tried.</summary>
internal readonly record struct Turn(int Piece, int Night);
