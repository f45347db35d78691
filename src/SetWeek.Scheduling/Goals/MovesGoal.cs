using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Goals;

internal sealed class MovesGoal : IGoal
{
    public string Id => "moves";

    public long Measure(Problem problem, Schedule schedule)
    {
        var moves = 0L;
        var pieces = schedule.Work.SelectMany(work => work.People.Select(hand => (hand.Person, Work: work)));
        foreach (var night in pieces.GroupBy(piece => (piece.Person, piece.Work.Night)))
        {
            int? before = null;
            foreach (var (_, work) in night.OrderBy(piece => piece.Work.From))
            {
                if (before is { } zone && zone != work.Zone) moves++;
                before = work.Zone;
            }
        }
        return moves;
    }

    public LinearExpr Post(ExactModel model) => LinearExpr.Constant(0);
}
