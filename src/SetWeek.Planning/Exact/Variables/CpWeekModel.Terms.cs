using Google.OrTools.Sat;
using Google.OrTools.Util;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>What rules say their constraints with, facts and fixed parts folded in.</summary>
internal sealed partial class CpWeekModel
{
    private const int MaxAssignmentLiterals = 6000;

    private readonly Dictionary<(int Person, int Night, long Step), ILiteral> covers = [];
    private readonly Dictionary<(int Job, int Person, int Night), ILiteral> assignedInNight = [];
    private CpStoreAttendance[]? storeAttendance;
    private bool? tooManyAssignmentLiterals;

    /// <summary>By night: who answers for the store while anybody is in it.</summary>
    public CpStoreAttendance[] StoreAttendance => storeAttendance ??= [.. Problem.Nights.Select(night =>
    {
        var (opens, ends) = (Opens(night.Index), CeilingUnit(Horizon(night.Index).To));
        return new CpStoreAttendance(night.Index, Cp.NewIntVar(opens, ends, ""), Cp.NewIntVar(opens, ends, ""), Cp.NewBoolVar(""));
    })];

    public CpActivity LastStintOf(int task) => Activities[Problem.Tasks[task].FirstStint + Problem.Tasks[task].StintCount - 1];

    /// <summary>Work of the display has begun.</summary>
    public bool StaysPlaced(int display) => Problem.Facts?.StaysPlaced[display] == true;

    public IEnumerable<CpShift> FreeShifts() => AllShifts.Where(shift => !shift.IsFixed);

    public IEnumerable<(CpActivity Job, int Mode, int Night, CpStartDomain Moments)> AllStartDomains() => Activities.SelectMany(StartDomainsOf);

    public IEnumerable<(CpActivity Job, int Mode, int Night, CpStartDomain Moments)> StartDomainsOf(CpActivity activity)
    {
        for (var mode = 0; mode < activity.Modes.Count; mode++)
            for (var night = 0; night < Problem.Nights.Count; night++)
                if (activity.StartDomains[mode, night] is { } moments) yield return (activity, mode, night, moments);
    }

    public void AddEquivalence(ILiteral one, ILiteral other)
    {
        Implies(one, other);
        Implies(other, one);
    }

    /// <summary>The later job starts no sooner than so many minutes after the earlier one ends, where both are there.</summary>
    public void AddPrecedence(CpActivity earlier, CpActivity later, int lagMinutes, ILiteral? enforcement = null)
    {
        if (later.Begun || IsFixedFalse(earlier.Present) || IsFixedFalse(later.Present)) return;
        if (earlier.FixedWork is not null && later.FixedWork is not null) return;
        if (earlier.FixedWork is { } done && (enforcement is null || IsFixedTrue(enforcement)))
        {
            foreach (var (_, _, _, moments) in StartDomainsOf(later)) moments.AtLeast(CeilingUnit((long)done.To + lagMinutes));
        }
        else AtLeast(later.Start - earlier.End, CeilingUnit(lagMinutes), earlier.Present, later.Present, enforcement ?? TrueLiteral);
    }

    /// <summary>The shift ends by a minute; one under way at least as soon as it can.</summary>
    public void LimitEnd(CpShift shift, int minute)
    {
        var latest = FloorUnit(shift.Begun is null ? minute : Math.Max(minute, EarliestEnd(shift)));
        if (latest < Opens(shift.Night))
        {
            FixFalse(shift.Present);
            return;
        }
        var steps = shift.ToStep.Proto.Domain;
        steps[^1] = Math.Min(steps[^1], (latest - Opens(shift.Night)) / ShiftStep);
        Infeasible |= steps[0] > steps[^1];
    }

    /// <summary>First minute at which a shift under way can end.</summary>
    public int EarliestEnd(CpShift shift) => Problem.Facts!.EarliestEnds[(shift.Person, shift.Night)];

    /// <summary>Where the literals hold, the expression has that value.</summary>
    public void Equal(LinearExpr expression, long value, params ReadOnlySpan<ILiteral> enforcement) =>
        AddInDomain(new Domain(value), expression, enforcement);

    /// <summary>
    /// Where the literals hold, the expression lies in none of the ranges; one that ends before it begins holds nothing.
    /// </summary>
    public void Outside(
        LinearExpr expression, IReadOnlyList<(long From, long To)> ranges, params ReadOnlySpan<ILiteral> enforcement)
    {
        var some = ranges.Where(range => range.From <= range.To).ToList();
        if (some.Count > 0) AddInDomain(DomainOf(some).Complement(), expression, enforcement);
    }

    private void AddInDomain(Domain domain, LinearExpr expression, ReadOnlySpan<ILiteral> enforcement)
    {
        if (!TryGetEnforcement(enforcement, out var literals)) return;
        var constraint = Cp.AddLinearExpressionInDomain(expression, domain);
        if (literals.Length > 0) constraint.OnlyEnforceIf(literals);
    }

    /// <summary>Of a set of people, at least (or exactly) as many are on a job as its mode needs.</summary>
    public void RequirePeople(CpActivity activity, ulong set, Func<HallConditions, int> neededBy, bool exactly)
    {
        var sum = LinearExpr.NewBuilder(activity.HasPerson.Length + activity.Modes.Count);
        for (var person = 0; person < activity.HasPerson.Length; person++)
            if ((set >> person & 1) == 1 && !IsFixedFalse(activity.HasPerson[person])) sum.Add(activity.HasPerson[person]);
        for (var mode = 0; mode < activity.Modes.Count; mode++)
            if (!IsFixedFalse(activity.InMode[mode])) sum.AddTerm(activity.InMode[mode], -neededBy(HallConditionsOf(activity.Modes[mode])));
        AddLinear(sum, 0, exactly ? 0 : long.MaxValue, []);
    }

    /// <summary>Jobs under way together take no more than there is; what begun work takes too much binds nothing.</summary>
    public void AddCumulative(long capacity, Func<CpActivity, ActivityMode, int> demand)
    {
        var (free, taken) = (new List<(IntervalVar Interval, int Demand)>(), new List<(long From, long To, int Demand)>());
        var together = 0L;
        foreach (var activity in Activities)
        {
            var most = 0;
            for (var mode = 0; mode < activity.Modes.Count; mode++)
            {
                var wanted = demand(activity, activity.Modes[mode]);
                if (wanted == 0 || IsFixedFalse(activity.InMode[mode])) continue;
                if (activity.FixedWork is { } work)
                {
                    if (work.To > Now) taken.Add((Math.Max(FloorUnit(work.From), CeilingUnit(Now)), CeilingUnit(work.To), wanted));
                }
                else if (wanted > capacity) FixFalse(activity.InMode[mode]);
                else free.Add((activity.Intervals[mode], wanted));
                most = Math.Max(most, wanted);
            }
            together += most;
        }
        if (free.Count == 0 || together <= capacity) return;
        var cumulative = Cp.AddCumulative(capacity);
        foreach (var (interval, wanted) in free) cumulative.AddDemand(interval, wanted);
        foreach (var (from, to, wanted) in Profile(taken))
            cumulative.AddDemand(FixedInterval(from, to), Math.Min(wanted, capacity));
    }

    private IntervalVar FixedInterval(long from, long to) => Cp.NewFixedSizeIntervalVar(LinearExpr.Constant(from), to - from, "");

    /// <summary>Paid minutes of the week.</summary>
    public LinearExpr PaidMinutesOf(int person) =>
        LinearExpr.WeightedSum(ShiftsOf(person).Select(shift => shift.Worked), Problem.Nights.Select(_ => (long)Unit));

    /// <summary>Most that <see cref="PaidMinutesOf"/> can be.</summary>
    public long MaxPaidMinutes(int person) => ShiftsOf(person).Where(shift => !IsFixedFalse(shift.Present)).Sum(shift => shift.FixedShift?.PaidMinutes
        ?? MinuteOf(Opens(shift.Night) + LastStep(shift) * ShiftStep) - Math.Min(Problem.Nights[shift.Night].Opens,
            shift.Begun?.From ?? int.MaxValue));

    /// <summary>The person is at the job, and it is that night.</summary>
    public ILiteral AssignedInNight(CpActivity activity, int person, int night)
    {
        var (at, then) = (activity.HasPerson[person], activity.InNight[night]);
        if (IsFixedFalse(at) || IsFixedFalse(then)) return FalseLiteral;
        if (IsFixedTrue(then) || activity.InNight.Count(other => !IsFixedFalse(other)) == 1) return at;
        if (IsFixedTrue(at)) return then;
        if (!assignedInNight.TryGetValue((activity.Index, person, night), out var both))
        {
            assignedInNight[(activity.Index, person, night)] = both = Cp.NewBoolVar("");
            Cp.AddImplication(both, at);
            Cp.AddImplication(both, then);
            Cp.AddBoolOr([both, at.Not(), then.Not()]);
        }
        return both;
    }

    /// <summary>As <see cref="AssignedInNight"/>, but null where literals of that kind would be too many.</summary>
    public ILiteral? AssignedInNightOrNull(CpActivity activity, CpShift shift)
    {
        tooManyAssignmentLiterals ??= NotBegun.Sum(one => one.InNight.Count(then => !IsFixedFalse(then)) is var nights and > 1
            ? nights * one.HasPerson.Count(at => !IsFixedFalse(at)) : 0) > MaxAssignmentLiterals;
        return tooManyAssignmentLiterals.Value && activity.InNight.Count(then => !IsFixedFalse(then)) > 1 && !IsFixedTrue(activity.HasPerson[shift.Person])
            ? null : AssignedInNight(activity, shift.Person, shift.Night);
    }

    /// <summary>Somebody is in the store for a step of the shift grid.</summary>
    public void AddAttendedStep(int night, ILiteral stepAttended) => attendedSteps[night].Add(stepAttended);

    /// <summary>Last step of the shift grid at which the shift can end.</summary>
    public long LastStep(CpShift duty) =>
        duty.FixedShift is { } shift ? (CeilingUnit(shift.To) - Opens(duty.Night) + ShiftStep - 1) / ShiftStep : duty.ToStep.Proto.Domain[^1];

    /// <summary>On shift from that step of the shift grid to the next.</summary>
    public ILiteral Covers(CpShift duty, long step)
    {
        var from = Opens(duty.Night) + step * ShiftStep;
        if (duty.FixedShift is { } shift) return CeilingUnit(shift.From) <= from && FloorUnit(shift.To) >= from + ShiftStep ? TrueLiteral : FalseLiteral;
        if (step >= LastStep(duty)) return FalseLiteral;
        if (!covers.TryGetValue((duty.Person, duty.Night, step), out var covered))
        {
            covers[(duty.Person, duty.Night, step)] = covered = Cp.NewBoolVar("");
            AtMost(duty.FromStep, step, covered);
            AtLeast(duty.ToStep, step + 1, covered);
        }
        return covered;
    }

    /// <summary>A shift covers as many steps as it lasts, so the literals of <see cref="Covers"/> say all of it.</summary>
    public void LinkCoverToLength(CpShift shift)
    {
        var steps = covers.Where(pair => (pair.Key.Person, pair.Key.Night) == (shift.Person, shift.Night)).ToArray();
        if (steps.Length == 0) return;
        var sum = LinearExpr.NewBuilder(steps.Length + 2);
        foreach (var (_, covered) in steps) sum.Add(covered);
        // A shift under way covers everything from the first step that counts to its end.
        if (shift.Begun is null) sum.Add(shift.FromStep);
        else sum.Add(steps.Min(pair => pair.Key.Step));
        AddLinear(sum.AddTerm(shift.ToStep, -1), 0, 0, []);
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
internal sealed record CpStoreAttendance(int Night, IntVar From, IntVar To, ILiteral Attended);
