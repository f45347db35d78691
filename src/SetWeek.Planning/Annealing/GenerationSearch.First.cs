using SetWeek.Model.Problems;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// How a plan comes to stand: the published one repaired or one made from nothing, and room made for what is missing.
/// </summary>
internal sealed partial class GenerationSearch
{
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

    /// <summary>A first plan, or as near to one as some attempts come; true where there is one.</summary>
    public bool FindFirst() => problem.Facts is { } facts ? Repair(facts) : FromNothing();

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

    private bool Repair(Facts facts)
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
}
