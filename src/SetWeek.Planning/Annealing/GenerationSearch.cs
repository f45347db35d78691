using SetWeek.Model.Problems;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// The search that builds plans job by job: a first plan at once, then room for what was left out, then ruin and recreate for
/// the goals in their order. Deterministic where the budget is.
/// </summary>
internal sealed partial class GenerationSearch
{
    /// <summary>
    /// How much dearer a plan may be and still be gone on with, about, in hours of mean pay: at the beginning and near the
    /// end.
    /// </summary>
    private const double Hottest = 0.5, Coldest = 0.01;

    /// <summary>Stints of a week that is cooled several times, how often, and how hot it is made again.</summary>
    private const int SmallWeek = 70, Coolings = 3;
    private const double HotAgain = 2;

    /// <summary>Starts looked at in what counts as one unit of effort.</summary>
    private const double LooksAUnit = 0.9e6;

    /// <summary>
    /// A plan a little better than the one told of last is kept back this long, in seconds: checking takes time too.
    /// </summary>
    private const double Patience = 0.05;

    private readonly Problem problem;
    private readonly Incumbent incumbent;
    private readonly Budget budget;
    private readonly Image image;
    private readonly Placer placer;
    private readonly Roster roster;
    private readonly Recreation recreation;
    private readonly Adoption adoption;
    private readonly Fitting fitting;
    private readonly SimulatedAnnealing annealing;
    private readonly FirstPlans firstPlans;
    private readonly Mending mending;
    private readonly Score score;
    private readonly Draft beginning, draft, nearest;
    private readonly bool beside;
    private long looksCharged;
    private double offeredAt = double.MinValue;
    private bool held;

    /// <param name="problem">What is planned.</param>
    /// <param name="incumbent">Given every better plan; others' plans are gone on from.</param>
    /// <param name="budget">What may be used of time or effort.</param>
    /// <param name="beside">Beside another search, from whose plan it begins: cool from the start, and with another chance.</param>
    /// <param name="drain">Nights that are to be emptied.</param>
    public GenerationSearch(Problem problem, Incumbent incumbent, Budget budget, bool beside = false,
        Drain? drain = null)
    {
        this.beside = beside;
        (this.problem, this.incumbent, this.budget) = (problem, incumbent, budget);
        image = new Image(problem, drain);
        var chance = new Chance(budget.Seed + (beside ? 1 : 0));
        var personNight = new PersonNight(image);
        placer = new Placer(image, personNight, chance);
        roster = new Roster(image, personNight, new Crewing(image, personNight));
        recreation = new Recreation(image, placer, roster);
        adoption = new Adoption(image, personNight);
        fitting = new Fitting(image, placer, roster, recreation, chance);
        score = new Score(image);
        annealing = new SimulatedAnnealing(image, placer, roster, recreation, score, chance);
        mending = new Mending(image, placer, roster, recreation, score, chance);
        firstPlans = new FirstPlans(image, placer, recreation, chance);
        beginning = Beginning.Of(image);
        (draft, nearest) = (new Draft(image), new Draft(image));
    }

    /// <summary>Goes on until the budget is spent or, in share of it, until so much is.</summary>
    public void Improve(double until = 1, double roomShare = RoomShare)
    {
        if (!Find(until)) return;
        var began = budget.Share;
        FindRoom(began + roomShare * (until - began));
        BetterFirst(until);
        began = budget.Share;
        while (!Over(until))
        {
            // A turn that comes later goes on from a good plan, and is not as hot.
            var share = (budget.Share - began) / (until - began);
            if (annealing.Step(HeatAt(share, began))) held = true;
            if ((annealing.Steps & 15) == 0) Report();
            if ((annealing.Steps & 255) == 0) LearnFromOthers();
        }
        if (held) Offer();
    }

    public Schedule Best => Finish.Of(image, annealing.Best);

    /// <summary>Goes on from a plan of the same week.</summary>
    public void GoOnFrom(Schedule schedule) => Adopt(schedule);

    /// <summary>
    /// A small week is heated again, and more: what it costs hangs on a few whole shifts, and one cooling ends in a corner.
    /// </summary>
    private double HeatAt(double share, double began)
    {
        if (began >= 0.5 || beside) return Heat((1 + share) / 2);
        if (problem.Stints.Count > SmallWeek) return Heat(share);
        var turn = Math.Min(Coolings - 1, (int)(share * Coolings));
        return Heat(share * Coolings - turn, turn == 0 ? Hottest : HotAgain);
    }

    private static double Heat(double share, double hottest = Hottest) =>
        share > 0.92 ? 0 : hottest * Math.Pow(Coldest / hottest, share);

    private bool Over(double until)
    {
        Charge();
        return budget.Spent || budget.Share >= until;
    }

    /// <summary>Where there is nothing to place nothing is looked at, and a step still counts: else it would never end.</summary>
    private void Charge()
    {
        budget.Use(Math.Max(20, placer.Looked - looksCharged) / LooksAUnit);
        looksCharged = placer.Looked;
    }

    private bool Begin()
    {
        annealing.Begin(draft);
        return Offer();
    }

    private void Report()
    {
        if (held && (budget.Deterministic || budget.Elapsed.TotalSeconds - offeredAt > Patience)) Offer();
    }

    private bool Offer()
    {
        held = false;
        offeredAt = budget.Elapsed.TotalSeconds;
        return incumbent.Offer(Finish.Of(image, annealing.Best)) || incumbent.Best is not null;
    }

    private void LearnFromOthers()
    {
        if (incumbent.Values is { } values && values.AsSpan().SequenceCompareTo(annealing.BestValues.AsSpan(0, values.Length)) < 0
            && incumbent.Best is { } best)
            Adopt(best);
    }

    private void Adopt(Schedule schedule)
    {
        adoption.Take(draft, beginning, schedule);
        annealing.Begin(draft);
    }
}
