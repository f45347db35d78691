namespace SetWeek.Scheduling.Search.Generation;

/// <summary>
/// For a week that is one night with nothing to gain but an early finish: orders of the jobs are bred (Hartmann 1998), each
/// order is a schedule, and each schedule is pushed to its end and back (double justification: Valls, Ballestin and
/// Quintanilla 2005), which shortens most of them.
/// </summary>
internal sealed class ListSearch
{
    private const int Size = 40;

    /// <summary>Orders bred without an earlier finish, after which the breed has become too alike and is begun anew.</summary>
    private const int Stale = 2000;

    private readonly Image image;
    private readonly Placer placer;
    private readonly Chance chance;
    private readonly Draft beginning, draft, best;
    private readonly List<(int Finish, int[] Order)> population = [];
    private readonly int[] order, waiting;
    private readonly bool[] used;
    private int sinceBetter;

    public ListSearch(Image image, Placer placer, Draft beginning, Chance chance)
    {
        (this.image, this.placer, this.beginning, this.chance) = (image, placer, beginning, chance);
        (draft, best) = (new Draft(image), new Draft(image));
        (order, waiting, used) = (new int[image.Stints], new int[image.Stints], new bool[image.Stints]);
    }

    public static bool Suits(Image image) =>
        image.Nights == 1 && image.Problem.Goals[0].Goal == "finish" && image.Problem.Facts is null
        && !image.KeyholderPresent && image.MinPeople < 2 && image.Finals.Length == 0
        && image.Problem.Zones.All(zone => zone.CleanDown is null) && image.Options.All(option => option.Choices.Length == 1);

    public Draft Best => best;
    public int BestFinish { get; private set; } = int.MaxValue;

    /// <summary>Schedules built so far, what the literature counts.</summary>
    public long Schedules { get; private set; }

    /// <summary>One more order; true where it finishes earlier than the best so far.</summary>
    /// <param name="most">Schedules that may be built.</param>
    public bool Step(long most)
    {
        placer.Preference = Preference.Earliest;
        if (population.Count < Size) Sample();
        else Breed();
        if (Build() is not { } finish) return false;
        if (most > 2) Justify(ref finish);
        Keep(finish);
        if (finish >= BestFinish)
        {
            if (++sinceBetter % Stale == 0) population.Clear();
            return false;
        }
        sinceBetter = 0;
        BestFinish = finish;
        best.CopyFrom(draft);
        return true;
    }

    /// <summary>By latest starts, blurred: what the least time is left for comes first.</summary>
    private void Sample()
    {
        var span = image.SlotCounts[0] * image.Grid;
        var blur = population.Count == 0 ? 0 : 1.5;
        for (var job = 0; job < image.Stints; job++) waiting[job] = image.Jobs[job].Before.Length;
        for (var at = 0; at < image.Stints; at++)
        {
            var (next, least) = (-1, double.MaxValue);
            for (var job = 0; job < image.Stints; job++)
            {
                if (waiting[job] != 0) continue;
                var key = image.Jobs[job].Latest + blur * chance.Share() * CriticalSpan(span);
                if (key < least) (next, least) = (job, key);
            }
            order[at] = next;
            waiting[next] = -1;
            foreach (var tie in image.Jobs[next].After) waiting[tie.Job]--;
        }
    }

    private double CriticalSpan(int span) => span - image.Jobs.Take(image.Stints).Min(job => job.Latest);

    /// <summary>Two points: the middle follows one parent, the ends the other.</summary>
    private void Breed()
    {
        var (mother, father) = (Pick(), Pick());
        var (first, second) = (chance.Below(image.Stints), chance.Below(image.Stints));
        if (first > second) (first, second) = (second, first);
        Array.Clear(used);
        var at = 0;
        Follow(mother, first);
        Follow(father, second);
        Follow(mother, image.Stints);
        for (var place = 1; place < image.Stints; place++)
            if (chance.Happens(0.1)
                && !Follows(order[place], order[place - 1]))
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

    private int[] Pick()
    {
        var (one, other) = (population[chance.Below(population.Count)], population[chance.Below(population.Count)]);
        return one.Finish <= other.Finish ? one.Order : other.Order;
    }

    private bool Follows(int job, int other)
    {
        foreach (var tie in image.Jobs[job].Before) if (tie.Job == other) return true;
        return false;
    }

    private int? Build()
    {
        Schedules++;
        draft.CopyFrom(beginning);
        var finish = 0;
        foreach (var job in order)
        {
            if (!placer.PlaceGroup(draft, job)) return null;
            finish = Math.Max(finish, draft.To[job]);
        }
        return finish;
    }

    private void Justify(ref int finish)
    {
        Schedules += 2;
        placer.Deadline = finish;
        placer.Preference = Preference.Latest;
        order.AsSpan().Sort((one, other) => draft.To[one] != draft.To[other] ? draft.To[other] - draft.To[one] : one - other);
        Move();
        placer.Deadline = Problem.Never;
        placer.Preference = Preference.Earliest;
        order.AsSpan().Sort((one, other) => draft.From[one] != draft.From[other]
            ? draft.From[one] - draft.From[other] : one - other);
        Move();
        finish = 0;
        foreach (var job in order) finish = Math.Max(finish, draft.To[job]);
        order.AsSpan().Sort((one, other) => draft.From[one] != draft.From[other]
            ? draft.From[one] - draft.From[other] : one - other);
    }

    /// <summary>Each job in turn is taken out and put where it is preferred; where it was always is one such place.</summary>
    private void Move()
    {
        foreach (var job in order)
        {
            var (manner, night, start) = (draft.Manner[job], draft.Night[job], draft.Start[job]);
            var hands = draft.HandsOf(job).ToArray();
            draft.Lift(job);
            if (!placer.Place(draft, job, -1)) draft.Put(job, manner, night, start, hands);
        }
    }

    private void Keep(int finish)
    {
        if (population.Count >= Size && finish > population[^1].Finish) return;
        foreach (var (other, kept) in population)
            if (other == finish && kept.AsSpan().SequenceEqual(order)) return;
        var at = population.FindIndex(one => one.Finish >= finish);
        population.Insert(at < 0 ? population.Count : at, (finish, [.. order]));
        if (population.Count > Size) population.RemoveAt(Size);
    }
}
