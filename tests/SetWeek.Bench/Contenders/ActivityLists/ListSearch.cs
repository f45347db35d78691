using SetWeek.Model.Problems;
using SetWeek.Planning.Compact;

namespace SetWeek.Bench.Contenders.ActivityLists;

/// <summary>
/// For a long night: orders of the jobs are bred (Hartmann 1998). What a child's order gives is a schedule pushed to the night's
/// end and back, which shortens most of them (double justification: Valls, Ballestin and Quintanilla 2005); parents are kept
/// as the order in which they are pushed, so that a child takes two schedules and not three.
/// </summary>
internal sealed class ListSearch
{
    /// <summary>Parents at most, and schedules for each of them where those that may be built are counted.</summary>
    private const int MostParents = 80, SchedulesAParent = 25;

    /// <summary>Children bred without an earlier finish, after which the breed has become too alike and is begun anew.</summary>
    private const int Stale = 2000;

    /// <summary>The least share of an order that a child has of its other parent; how often neighbours change places.</summary>
    private const double LeastShare = 1 / 3.0, Mutations = 0.1;

    /// <summary>
    /// How far first orders are from latest starts, in lengths of the critical path: nearly by chance, so that they differ.
    /// </summary>
    private const double Blur = 1.5;

    private readonly LongNight night;
    private readonly Chance chance;
    private readonly int size;
    private readonly long most;
    private readonly SerialPass pass;
    private readonly List<(int Finish, int[] Order)> parents = [];
    private readonly int[] order, waiting, latest;
    private readonly bool[] used;
    private int stale;

    /// <param name="night">What is planned.</param>
    /// <param name="chance">Where its numbers come from.</param>
    /// <param name="most">Schedules that may be built.</param>
    public ListSearch(LongNight night, Chance chance, long most)
    {
        (this.night, this.chance, this.most) = (night, chance, most);
        size = (int)Math.Clamp(most / SchedulesAParent, 2, MostParents);
        pass = new SerialPass(night);
        (order, waiting, used) = (new int[night.Count], new int[night.Count], new bool[night.Count]);
        latest = night.LatestStarts();
        Best = new Schedule { Work = [], Shifts = [], Keyholders = [] };
    }

    /// <summary>Whole schedules built: two for a child, three for a first order. What the literature counts.</summary>
    public long Schedules { get; private set; }

    public int BestFinish { get; private set; } = int.MaxValue;
    public Schedule Best { get; private set; }

    /// <summary>One more order; true where it finishes earlier than the best so far.</summary>
    public bool Step()
    {
        if (parents.Count < size)
        {
            Sample();
            Build(back: false);
        }
        else Breed();
        Build(back: true);
        if (!Build(back: false)) return false;
        Keep(pass.Finish);
        if (pass.Finish >= BestFinish)
        {
            if (++stale % Stale == 0) parents.Clear();
            return false;
        }
        (stale, BestFinish, Best) = (0, pass.Finish, pass.Schedule());
        return true;
    }

    /// <summary>False where no more schedules may be built.</summary>
    private bool Build(bool back)
    {
        if (Schedules == most) return false;
        Schedules++;
        pass.Run(order, back);
        return true;
    }

    /// <summary>By latest starts, blurred: what the least time is left for comes first.</summary>
    private void Sample()
    {
        var blur = parents.Count == 0 ? 0 : -Blur * latest.Min();
        for (var job = 0; job < night.Count; job++) waiting[job] = night.Before[job].Length;
        for (var at = 0; at < night.Count; at++)
        {
            var (next, least) = (-1, double.MaxValue);
            for (var job = 0; job < night.Count; job++)
            {
                if (waiting[job] != 0) continue;
                var key = latest[job] + blur * chance.Share();
                if (key < least) (next, least) = (job, key);
            }
            order[at] = next;
            waiting[next] = -1;
            foreach (var tie in night.After[next]) waiting[tie.Job]--;
        }
    }

    /// <summary>Two points, well apart: the middle follows one parent, the ends the other.</summary>
    private void Breed()
    {
        var (mother, father) = (Pick(), Pick());
        var length = (int)(night.Count * (LeastShare + (1 - LeastShare) * chance.Share()));
        var first = chance.Below(night.Count - length + 1);
        Array.Clear(used);
        var at = 0;
        Follow(mother, first);
        Follow(father, first + length);
        Follow(mother, night.Count);
        for (var place = 1; place < night.Count; place++)
            if (chance.Happens(Mutations) && !Tied(order[place - 1], order[place]))
                (order[place - 1], order[place]) = (order[place], order[place - 1]);

        void Follow(int[] parent, int until)
        {
            for (var from = 0; at < until; from++)
                if (!used[parent[from]])
                {
                    used[parent[from]] = true;
                    order[at++] = parent[from];
                }
        }
    }

    /// <summary>The better of two; parents are kept best first.</summary>
    private int[] Pick() => parents[Math.Min(chance.Below(parents.Count), chance.Below(parents.Count))].Order;

    /// <summary>Orders are those of the push to the end: what follows comes first.</summary>
    private bool Tied(int job, int next) => Array.Exists(night.Before[job], tie => tie.Job == next);

    private void Keep(int finish)
    {
        if (parents.Count >= size && finish > parents[^1].Finish) return;
        foreach (var (other, kept) in parents)
            if (other == finish && kept.AsSpan().SequenceEqual(order)) return;
        var at = parents.FindIndex(one => one.Finish >= finish);
        parents.Insert(at < 0 ? parents.Count : at, (finish, [.. order]));
        if (parents.Count > size) parents.RemoveAt(size);
    }
}
