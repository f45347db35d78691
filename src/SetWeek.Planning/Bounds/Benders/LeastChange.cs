using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds.Benders;

/// <summary>
/// The least change of a re-plan, by turns (logic-based Benders decomposition): the master chooses what is least by all that is
/// known of nights; each night is asked, exact in its hours, whether it can be had at that price; where it cannot, that is
/// told to the master as a cut. A bound is proven in every round.
/// </summary>
internal sealed class LeastChange
{
    /// <summary>Seconds, or units, that a question about a night may take, finding its least, and finding a plan.</summary>
    private const double AQuestion = 0.15, ALeast = 0.1, APlan = 0.5;

    /// <summary>
    /// What a stint pays for leaving its night, tried in turn: dear ones tell more of those that stay, and what can be had at the
    /// dearest can be had at any.
    /// </summary>
    private static readonly int[] Prices = [6, 1];

    private readonly Problem problem;
    private readonly Certificates known;
    private readonly Incumbent incumbent;
    private readonly int goal;
    private readonly OneNight nights;
    private readonly ChangeMaster master;
    private readonly int[][] published;
    private readonly long[] alone;
    private readonly bool[] stands;
    private readonly int[] extra, none;
    private readonly Dictionary<string, (double Patience, bool? Answer)> asked = [];
    private long[] caps = [];
    private double patience = AQuestion;
    private bool open;
    private Budget budget = null!;
    private double end;

    public LeastChange(Problem problem, Certificates known, Incumbent incumbent, int goal)
    {
        (this.problem, this.known, this.incumbent, this.goal) = (problem, known, incumbent, goal);
        (nights, master) = (new OneNight(problem, known), new ChangeMaster(problem, known));
        var work = problem.Facts!.Published.ByStint(problem);
        published = [.. problem.Nights.Select(night => problem.Stints.Where(stint => problem.Facts.Begun[stint.Index] is null
            && work[stint.Index]?.Night == night.Index && known.Windows.Of(stint.Index, night.Index) is not null)
            .Select(stint => stint.Index).ToArray())];
        alone = new long[problem.Nights.Count];
        stands = [.. problem.Nights.Select(night => nights.StandsAsPublished(night.Index))];
        none = new int[problem.Crew.Count];
        extra = [.. problem.Crew.Select(person => master.Full(person) ? 2 : 0)];
    }

    private bool Reached => incumbent.Values is { } values && incumbent.Bounds()[goal] >= values[goal];

    /// <summary>Also where a better plan holds the goals above to less: it is gone on with from there.</summary>
    private bool Over => budget.Spent || budget.Left <= end || Reached || !incumbent.CapsFor(goal).AsSpan().SequenceEqual(caps);

    private IEnumerable<int> Open =>
        problem.Nights.Where(night => night.Closes > problem.Facts!.Now).Select(night => night.Index);

    /// <summary>Goes on with what is known of nights; each time the goals above are held to no more than the time before.</summary>
    /// <param name="above">What the goals above are held to.</param>
    /// <param name="all">What may be used.</param>
    /// <param name="most">Seconds, or units of effort, of it.</param>
    public void Raise(long[] above, Budget all, double most)
    {
        (caps, budget, end) = (above, all, all.Left - most);
        for (var one = 0; one < goal; one++)
            if (problem.Goals[one].Goal == "leftOut") master.LeaveOutAtMost(caps[one]);
        if (!Choose(out _)) return;
        foreach (var night in Open) Alone(night);
        while (!Over && Choose(out var chosen))
        {
            open = false;
            if (Open.Count(night => Look(night, chosen)) > 0) continue;
            if (!open)
            {
                Realise(chosen);
                return;
            }
            patience *= 2;
        }
    }

    /// <summary>
    /// Nothing speaks against what the master has chosen: a plan with those nights and no more changes is looked for.
    /// </summary>
    private void Realise(RowSolver chosen)
    {
        if (Over) return;
        var model = new ExactModel(problem);
        foreach (var job in model.Open.Where(job => job.Stint is not null))
            foreach (var night in problem.Nights)
                if (chosen.ValueOf(master.Work.In(job.Index, night.Index)) == 0) model.Deny(job.Nights[night.Index]);
        model.With(AllRules.InOrder);
        var changes = ExactSearch.Capped(model, goal, caps)[goal];
        model.AtMost(changes.Sum, chosen.ValueOf(master.Changes)!.Value * changes.Per);
        model.Hint(incumbent.Best!);
        new ExactRun(model, incumbent, budget).Run(Slice(APlan), 1);
    }

    /// <summary>The master's least, proven; false where it has none to show or nothing is left to prove.</summary>
    private bool Choose(out RowSolver chosen)
    {
        chosen = new RowSolver(master.Rows, budget);
        var ending = chosen.Minimise(master.Changes, Math.Max(0, budget.Left - end),
            least => incumbent.Prove(caps, Math.Max(0, least)), () => Reached);
        return ending == RowSolver.Ending.Solved && !Over && chosen.ValueOf(master.Changes) is not null;
    }

    /// <summary>What the facts do to a night as published.</summary>
    private void Alone(int night)
    {
        var question = Ask(night, published[night], [], 1);
        if (stands[night] || Over || Never(question, 0) != true) return;
        alone[night] = Math.Max(1, nights.Least(question, budget, Slice(ALeast)));
        master.Cut(question, alone[night], 0);
    }

    /// <summary>True where the night cannot be had as chosen, or cannot with one of the stints that come.</summary>
    private bool Look(int night, RowSolver chosen)
    {
        if (Over) return false;
        int[] here = [.. problem.Stints.Where(stint => problem.Facts!.Begun[stint.Index] is null
            && chosen.ValueOf(master.Work.In(stint.Index, night)) == 1).Select(stint => stint.Index)];
        int[] comes = [.. here.Except(published[night])], stays = [.. here.Intersect(published[night])];
        // As published, or with less of that.
        if (stands[night] && comes.Length == 0) return false;
        var price = chosen.ValueOf(master.ShiftsOf(night))!.Value;
        // One alone first: what keeps it out keeps it out in whatever company.
        var cut = comes.Length > 1 && comes.Count(one => Cut(Ask(night, published[night], [one], 1),
            price + published[night].Length - stays.Length, alone[night]) == true) > 0;
        if (!cut && comes.Length > 0)
            cut = Cut(Ask(night, published[night], comes, 1), price + published[night].Length - stays.Length, alone[night]) == true;
        if (cut) return true;
        foreach (var dear in Prices)
        {
            var one = Cut(Ask(night, stays, comes, dear), price, 0);
            if (one == false) break;
            cut |= one == true;
        }
        return cut;
    }

    /// <summary>Who is added to a night under way is not counted by the master.</summary>
    private NightQuestion Ask(int night, int[] stays, int[] comes, int price) =>
        new(night, stays, comes, price, known.Crew.Begun(night) ? none : extra);

    /// <summary>Whether the master has been told that it cannot be had; null: not found out.</summary>
    private bool? Cut(NightQuestion question, long price, long otherwise)
    {
        if (Over) return null;
        if (Never(question, price) is not true and var answer) return answer;
        if (question.Comes.Count > 0 && Never(question with { Stays = [] }, null) == true)
        {
            master.Never(question.Night, question.Comes);
            return true;
        }
        var least = Math.Max(price + 1, nights.Least(question, budget, Slice(ALeast)));
        master.Cut(question, least, Math.Min(otherwise, least));
        return true;
    }

    /// <summary>Not asked twice, unless it was not found out and there is more patience now.</summary>
    private bool? Never(NightQuestion question, long? price)
    {
        var key = $"{question.Night} {price} {question.Price} {string.Join(',', question.Stays)} "
            + string.Join(',', question.Comes);
        if (asked.TryGetValue(key, out var before) && (before.Answer is not null || before.Patience >= patience))
        {
            open |= before.Answer is null;
            return before.Answer;
        }
        var never = nights.Never(question, price, budget, Slice(patience));
        asked[key] = (patience, never);
        open |= never is null;
        return never;
    }

    private double Slice(double most) => Math.Clamp(budget.Left - end, 0.001, most);
}
