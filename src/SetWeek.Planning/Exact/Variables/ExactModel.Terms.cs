using Google.OrTools.Sat;
using Google.OrTools.Util;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>What rules say their constraints with, facts and fixed parts folded in.</summary>
internal sealed partial class ExactModel
{
    private const int MostPlaces = 6000;

    private readonly Dictionary<(int Person, int Night, long Step), ILiteral> covers = [];
    private readonly Dictionary<(int Job, int Person, int Night), ILiteral> bothAt = [];
    private ExactLead[]? leads;
    private bool? manyPlaces;

    /// <summary>By night: who answers for the store while anybody is in it.</summary>
    public ExactLead[] Leads => leads ??= [.. Problem.Nights.Select(night =>
    {
        var (opens, ends) = (Opens(night.Index), Up(Reach(night.Index).To));
        return new ExactLead(night.Index, Cp.NewIntVar(opens, ends, ""), Cp.NewIntVar(opens, ends, ""), Cp.NewBoolVar(""));
    })];

    public ExactJob LastOf(int task) => Jobs[Problem.Activities[task].FirstStint + Problem.Activities[task].StintCount - 1];

    /// <summary>Work of the display has begun.</summary>
    public bool Stays(int display) => Problem.Facts?.StaysPlaced[display] == true;

    public IEnumerable<ExactDuty> OpenDuties() => AllDuties.Where(duty => !duty.Settled);

    public IEnumerable<(ExactJob Job, int Mode, int Night, ExactSlots Moments)> OpenSlots() => Jobs.SelectMany(SlotsOf);

    public IEnumerable<(ExactJob Job, int Mode, int Night, ExactSlots Moments)> SlotsOf(ExactJob job)
    {
        for (var mode = 0; mode < job.Ways.Count; mode++)
            for (var night = 0; night < Problem.Nights.Count; night++)
                if (job.Slots[mode, night] is { } moments) yield return (job, mode, night, moments);
    }

    public void Same(ILiteral one, ILiteral other)
    {
        Implies(one, other);
        Implies(other, one);
    }

    /// <summary>The later job starts no sooner than so many minutes after the earlier one ends, where both are there.</summary>
    public void Follow(ExactJob earlier, ExactJob later, int minutes, ILiteral? where = null)
    {
        if (later.Begun || IsNo(earlier.Present) || IsNo(later.Present)) return;
        if (earlier.Fixed is not null && later.Fixed is not null) return;
        if (earlier.Fixed is { } done && (where is null || IsYes(where)))
        {
            foreach (var (_, _, _, moments) in SlotsOf(later)) moments.AtLeast(Up((long)done.To + minutes));
        }
        else AtLeast(later.Start - earlier.End, Up(minutes), earlier.Present, later.Present, where ?? Yes);
    }

    /// <summary>The shift ends by a minute; one under way at least as soon as it can.</summary>
    public void EndsBy(ExactDuty duty, int minute)
    {
        var latest = Down(duty.Begun is null ? minute : Math.Max(minute, EarliestEnd(duty)));
        if (latest < Opens(duty.Night))
        {
            Deny(duty.On);
            return;
        }
        var steps = duty.ToStep.Proto.Domain;
        steps[^1] = Math.Min(steps[^1], (latest - Opens(duty.Night)) / ShiftStep);
        Impossible |= steps[0] > steps[^1];
    }

    /// <summary>First minute at which a shift under way can end.</summary>
    public int EarliestEnd(ExactDuty duty) => Problem.Facts!.EarliestEnds[(duty.Person, duty.Night)];

    /// <summary>Where the literals hold, the expression has that value.</summary>
    public void Equal(LinearExpr expression, long value, params ReadOnlySpan<ILiteral> where) =>
        In(new Domain(value), expression, where);

    /// <summary>
    /// Where the literals hold, the expression lies in none of the ranges; one that ends before it begins holds nothing.
    /// </summary>
    public void Outside(
        LinearExpr expression, IReadOnlyList<(long From, long To)> ranges, params ReadOnlySpan<ILiteral> where)
    {
        var some = ranges.Where(range => range.From <= range.To).ToList();
        if (some.Count > 0) In(DomainOf(some).Complement(), expression, where);
    }

    private void In(Domain domain, LinearExpr expression, ReadOnlySpan<ILiteral> where)
    {
        if (!Enforcing(where, out var literals)) return;
        var constraint = Cp.AddLinearExpressionInDomain(expression, domain);
        if (literals.Length > 0) constraint.OnlyEnforceIf(literals);
    }

    /// <summary>Of a set of people, at least (or exactly) as many are on a job as its mode needs.</summary>
    public void Staffed(ExactJob job, ulong set, Func<Crewing, int> need, bool exactly)
    {
        var sum = LinearExpr.NewBuilder(job.People.Length + job.Ways.Count);
        for (var person = 0; person < job.People.Length; person++)
            if ((set >> person & 1) == 1 && !IsNo(job.People[person])) sum.Add(job.People[person]);
        for (var mode = 0; mode < job.Ways.Count; mode++)
            if (!IsNo(job.Modes[mode])) sum.AddTerm(job.Modes[mode], -need(CrewingOf(job.Ways[mode])));
        Post(sum, 0, exactly ? 0 : long.MaxValue, []);
    }

    /// <summary>Jobs under way together take no more than there is; what begun work takes too much binds nothing.</summary>
    public void Share(long capacity, Func<ExactJob, Way, int> demand)
    {
        var (free, taken) = (new List<(IntervalVar Interval, int Demand)>(), new List<(long From, long To, int Demand)>());
        var together = 0L;
        foreach (var job in Jobs)
        {
            var most = 0;
            for (var mode = 0; mode < job.Ways.Count; mode++)
            {
                var wanted = demand(job, job.Ways[mode]);
                if (wanted == 0 || IsNo(job.Modes[mode])) continue;
                if (job.Fixed is { } work)
                {
                    if (work.To > Now) taken.Add((Math.Max(Down(work.From), Up(Now)), Up(work.To), wanted));
                }
                else if (wanted > capacity) Deny(job.Modes[mode]);
                else free.Add((job.Intervals[mode], wanted));
                most = Math.Max(most, wanted);
            }
            together += most;
        }
        if (free.Count == 0 || together <= capacity) return;
        var cumulative = Cp.AddCumulative(capacity);
        foreach (var (interval, wanted) in free) cumulative.AddDemand(interval, wanted);
        foreach (var (from, to, wanted) in Profile(taken))
            cumulative.AddDemand(Constant(from, to), Math.Min(wanted, capacity));
    }

    private IntervalVar Constant(long from, long to) => Cp.NewFixedSizeIntervalVar(LinearExpr.Constant(from), to - from, "");

    /// <summary>Paid minutes of the week.</summary>
    public LinearExpr PaidBy(int person) =>
        LinearExpr.WeightedSum(DutiesOf(person).Select(duty => duty.Worked), Problem.Nights.Select(_ => (long)Unit));

    /// <summary>Most that <see cref="PaidBy"/> can be.</summary>
    public long MostPaid(int person) => DutiesOf(person).Where(duty => !IsNo(duty.On)).Sum(duty => duty.Fixed?.PaidMinutes
        ?? Minute(Opens(duty.Night) + LastStep(duty) * ShiftStep) - Math.Min(Problem.Nights[duty.Night].Opens,
            duty.Begun?.From ?? int.MaxValue));

    /// <summary>The person is at the job, and it is that night.</summary>
    public ILiteral Both(ExactJob job, int person, int night)
    {
        var (at, then) = (job.People[person], job.Nights[night]);
        if (IsNo(at) || IsNo(then)) return No;
        if (IsYes(then) || job.Nights.Count(other => !IsNo(other)) == 1) return at;
        if (IsYes(at)) return then;
        if (!bothAt.TryGetValue((job.Index, person, night), out var both))
        {
            bothAt[(job.Index, person, night)] = both = Cp.NewBoolVar("");
            Cp.AddImplication(both, at);
            Cp.AddImplication(both, then);
            Cp.AddBoolOr([both, at.Not(), then.Not()]);
        }
        return both;
    }

    /// <summary>As <see cref="Both"/>, but null where literals of that kind would be too many.</summary>
    public ILiteral? There(ExactJob job, ExactDuty duty)
    {
        manyPlaces ??= Open.Sum(one => one.Nights.Count(then => !IsNo(then)) is var nights and > 1
            ? nights * one.People.Count(at => !IsNo(at)) : 0) > MostPlaces;
        return manyPlaces.Value && job.Nights.Count(then => !IsNo(then)) > 1 && !IsYes(job.People[duty.Person])
            ? null : Both(job, duty.Person, duty.Night);
    }

    /// <summary>Somebody is in the store for a step of the shift grid.</summary>
    public void Attended(int night, ILiteral step) => attended[night].Add(step);

    /// <summary>Last step of the shift grid at which the shift can end.</summary>
    public long LastStep(ExactDuty duty) =>
        duty.Fixed is { } shift ? (Up(shift.To) - Opens(duty.Night) + ShiftStep - 1) / ShiftStep : duty.ToStep.Proto.Domain[^1];

    /// <summary>On shift from that step of the shift grid to the next.</summary>
    public ILiteral Covers(ExactDuty duty, long step)
    {
        var from = Opens(duty.Night) + step * ShiftStep;
        if (duty.Fixed is { } shift) return Up(shift.From) <= from && Down(shift.To) >= from + ShiftStep ? Yes : No;
        if (step >= LastStep(duty)) return No;
        if (!covers.TryGetValue((duty.Person, duty.Night, step), out var covered))
        {
            covers[(duty.Person, duty.Night, step)] = covered = Cp.NewBoolVar("");
            AtMost(duty.FromStep, step, covered);
            AtLeast(duty.ToStep, step + 1, covered);
        }
        return covered;
    }

    /// <summary>A shift covers as many steps as it lasts, so the literals of <see cref="Covers"/> say all of it.</summary>
    public void CloseCover(ExactDuty duty)
    {
        var steps = covers.Where(pair => (pair.Key.Person, pair.Key.Night) == (duty.Person, duty.Night)).ToArray();
        if (steps.Length == 0) return;
        var sum = LinearExpr.NewBuilder(steps.Length + 2);
        foreach (var (_, covered) in steps) sum.Add(covered);
        // A shift under way covers everything from the first step that counts to its end.
        if (duty.Begun is null) sum.Add(duty.FromStep);
        else sum.Add(steps.Min(pair => pair.Key.Step));
        Post(sum.AddTerm(duty.ToStep, -1), 0, 0, []);
    }

    private static IEnumerable<(long From, long To, int Demand)> Profile(List<(long From, long To, int Demand)> taken)
    {
        long[] moments = [.. taken.SelectMany(use => new[] { use.From, use.To }).Distinct().Order()];
        for (var next = 1; next < moments.Length; next++)
        {
            var (from, to) = (moments[next - 1], moments[next]);
            var sum = taken.Where(use => use.From <= from && use.To >= to).Sum(use => use.Demand);
            if (sum > 0) yield return (from, to, sum);
        }
    }
}

/// <summary>A night's keyholder: from when to when somebody is in the store, and whether anybody is at all.</summary>
internal sealed record ExactLead(int Night, IntVar From, IntVar To, ILiteral Attended);
