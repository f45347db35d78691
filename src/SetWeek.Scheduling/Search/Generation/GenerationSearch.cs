namespace SetWeek.Scheduling.Search.Generation;

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

    /// <summary>Tries at repairing the published plan before others are looked at, and turns of both that then follow.</summary>
    private const int FirstMending = 250, MendingsAgain = 4, MoreMending = 50;

    /// <summary>
    /// After a plan made afresh: share of the budget until which a repair nearer to what was published is looked for.
    /// </summary>
    private const double NearerShare = 0.25;

    private const int FirstAttempts = 24, FittingSteps = 1500;

    /// <summary>Each time that a re-plan is made as if none had been published: orders tried, then steps to make room.</summary>
    private const int AttemptsAfresh = 6, AfreshSteps = 400;

    /// <summary>Units of effort that a restart counts as at the least.</summary>
    private const double ARestart = 0.001;

    /// <summary>Starts looked at in what counts as one unit of effort.</summary>
    private const double LooksAUnit = 0.9e6;

    /// <summary>Whole orders of a long night built in what counts as one unit of effort.</summary>
    private const double ListsAUnit = 25_000;

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
    private readonly Annealing annealing;
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
        annealing = new Annealing(image, placer, roster, recreation, score, chance);
        mending = new Mending(image, placer, roster, recreation, score, chance);
        firstPlans = new FirstPlans(image, placer, recreation, chance);
        beginning = Beginning.Of(image);
        (draft, nearest) = (new Draft(image), new Draft(image));
    }

    /// <summary>One night with nothing to gain but an early finish: it is bettered as one order of all work, and no part by part.</summary>
    public bool IsOneOrder => LongNight.Suits(problem);

    /// <summary>A first plan, or as near to one as some attempts come; true where there is one.</summary>
    public bool FindFirst()
    {
        if (problem.Facts is { } facts)
        {
            adoption.Keep(draft, beginning, facts.Published);
            var keptLess = new Draft(image);
            adoption.Keep(keptLess, beginning, facts.Published, freely: true);
            mending.Begin(draft, keptLess);
            if (incumbent.Best is { } known)
            {
                Adopt(known);
                mending.Learn(annealing.Best);
                return true;
            }
            var soon = firstPlans.Complete(draft) && Begin();
            if (Mend(FirstMending, 1) || soon) return true;
            for (var again = 0; again < MendingsAgain && !annealing.Found; again++)
                if (Afresh(again * AttemptsAfresh, 1) || Mend(FirstMending, 1)) break;
            // One made afresh is there to be shown; what is kept of the published plan is mended on for a nearer one.
            while (annealing.Found && !mending.IsFound && !Over(NearerShare)) Mend(MoreMending, NearerShare);
            return annealing.Found && Mend(2 * FirstMending, NearerShare);
        }
        return FromNothing();
    }

    /// <summary>
    /// A plan as if none had been published: where the facts bar much of what was, that is found sooner than a repair, which may
    /// then begin with it.
    /// </summary>
    private bool Afresh(int attempt, double until)
    {
        image.Publication.AllReleased = true;
        var (found, least) = (false, int.MaxValue);
        for (var last = attempt + AttemptsAfresh; attempt < last && !found && !Over(until); attempt++)
        {
            budget.Built(1);
            found = firstPlans.Build(draft, beginning, attempt);
            if (!found && (recreation.Missing == 0 || recreation.MissingWork >= least)) continue;
            least = recreation.MissingWork;
            nearest.CopyFrom(draft);
        }
        draft.CopyFrom(nearest);
        found = found || least < int.MaxValue && Fit(until, AfreshSteps);
        image.Publication.AllReleased = false;
        return found && Begin();
    }

    private bool FromNothing()
    {
        for (var attempt = 0; attempt < FirstAttempts && !budget.Spent; attempt++)
        {
            budget.Built(1);
            if (firstPlans.Build(draft, beginning, attempt) && Begin()) return true;
            Charge();
        }
        return false;
    }

    /// <summary>So many steps, in which the published plan is repaired; true where there is a plan by then.</summary>
    private bool Mend(int most, double until)
    {
        for (var step = 0; step < most && !Over(until); step++)
            if (mending.Step() && annealing.TryBegin(mending.Best)) Offer();
        return annealing.Found;
    }

    /// <summary>Goes on looking for a plan, with chance and by making room; true where there is one.</summary>
    public bool Find(double until = 1)
    {
        for (var restart = 1; !annealing.Found && !Over(until); restart++)
        {
            // Where no start is ever looked at, no effort would be counted, and this would not end.
            budget.Use(ARestart);
            if (incumbent.Best is { } other) Adopt(other);
            else if (problem.Facts is not null)
            {
                if (Mend(2 * FirstMending, until) || Afresh((MendingsAgain + restart) * AttemptsAfresh, until)) break;
            }
            else if (firstPlans.Build(draft, beginning, restart) || Fit(until, FittingSteps)) Begin();
        }
        return annealing.Found;
    }

    /// <summary>Goes on until the budget is spent or, in share of it, until so much is.</summary>
    public void Improve(double until = 1, double roomShare = RoomShare)
    {
        if (!Find(until)) return;
        var began = budget.Share;
        if (IsOneOrder) ImproveOrders(until);
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

    /// <summary>
    /// A first plan, in which until so much of the budget is gone room is found for what is left out; true where it is no worse
    /// than another in the goals above one.
    /// </summary>
    public bool FindFirst(double wants, int goal, long[] others)
    {
        if (!FindFirst()) return false;
        FindRoom(wants);
        return annealing.BestValues.AsSpan(0, goal).SequenceCompareTo(others.AsSpan(0, goal)) <= 0;
    }

    public Schedule Best => Finish.Of(image, annealing.Best);

    /// <summary>Goes on from a plan of the same week.</summary>
    public void GoOnFrom(Schedule schedule) => Adopt(schedule);

    /// <summary>
    /// Finds room for all that a part of a plan lacks, whatever it costs; true where there is a plan then.
    /// </summary>
    /// <param name="part">What to keep or make room in.</param>
    /// <param name="until">In share of the budget.</param>
    public bool FitInto(Schedule part, double until)
    {
        adoption.Take(draft, beginning, part);
        return Fit(until, int.MaxValue) && Begin();
    }

    private void ImproveOrders(double until)
    {
        var lists = new ListSearch(LongNight.Of(problem)!, new Chance(budget.Seed + 1), budget.SchedulesLeft);
        while (!Over(until))
        {
            var (built, better) = (lists.Schedules, lists.Step());
            budget.Built(lists.Schedules - built);
            budget.Use((lists.Schedules - built) / ListsAUnit);
            if (better && incumbent.Offer(lists.Best)) LearnFromOthers();
        }
    }

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

    private bool Fit(double until, int steps)
    {
        fitting.Begin(draft);
        // Nothing is missing: then it is the roster or a clean-down that did not fit, and there is nothing to make room for.
        if (fitting.Done) return recreation.Fill(draft, [], mayChoose: false);
        for (var step = 0; step < steps && !fitting.Done && !Over(until); step++)
            if (fitting.Step()) break;
        if (fitting.Done) draft.CopyFrom(fitting.Current);
        return fitting.Done;
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
