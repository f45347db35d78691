using Google.OrTools.Sat;
using Google.OrTools.Util;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>Constraints and expressions that rules and goals share. They take account of facts and of fixed parts.</summary>
internal sealed partial class CpWeekModel
{
    /// <summary>Literals for activity, person and night above which a model does without them, to stay small.</summary>
    private const int MaxAssignmentLiterals = 6000;

    private readonly Dictionary<(int Person, int Night, long Step), ILiteral> covers = [];
    private readonly Dictionary<(int Activity, int Person, int Night), ILiteral> assignedInNight = [];
    private CpStoreAttendance[]? storeAttendance;
    private bool? tooManyAssignmentLiterals;

    /// <summary>By night: the span in which the store is attended.</summary>
    public CpStoreAttendance[] StoreAttendance => storeAttendance ??= [.. Problem.Nights.Select(night =>
    {
        var (opens, ends) = (Opens(night.Index), CeilingUnit(Horizon(night.Index).To));
        return new CpStoreAttendance(
            night.Index, Cp.NewIntVar(opens, ends, ""), Cp.NewIntVar(opens, ends, ""), Cp.NewBoolVar(""));
    })];

    /// <summary>The activity of a task's last stint.</summary>
    public CpActivity LastStintOf(int task) => Activities[Problem.Tasks[task].LastStint];

    /// <summary>Work of the display has begun, so it stays placed (re-plan).</summary>
    public bool StaysPlaced(int display) => Problem.Facts?.StaysPlaced[display] == true;

    /// <summary>Shifts that are not fixed.</summary>
    public IEnumerable<CpShift> FreeShifts() => AllShifts.Where(shift => !shift.IsFixed);

    /// <summary>The start domains of all activities.</summary>
    public IEnumerable<(CpActivity Activity, int Mode, int Night, CpStartDomain Starts)> AllStartDomains() =>
        Activities.SelectMany(StartDomainsOf);

    /// <summary>The start domains of one activity, by mode and possible night. Empty if the activity is fixed.</summary>
    public IEnumerable<(CpActivity Activity, int Mode, int Night, CpStartDomain Starts)> StartDomainsOf(CpActivity activity)
    {
        for (var mode = 0; mode < activity.Modes.Count; mode++)
            for (var night = 0; night < Problem.Nights.Count; night++)
                if (activity.StartDomains[mode, night] is { } starts) yield return (activity, mode, night, starts);
    }

    /// <summary>Posts that both literals have the same value.</summary>
    public void AddEquivalence(ILiteral left, ILiteral right)
    {
        Implies(left, right);
        Implies(right, left);
    }

    /// <summary>
    /// Where both activities are present, the later one starts at least the lag after the earlier one ends. After a
    /// fixed activity only the start domains of the later one are reduced.
    /// </summary>
    /// <param name="earlier">The predecessor.</param>
    /// <param name="later">The successor; nothing is posted where it has begun.</param>
    /// <param name="lagMinutes">Least minutes between them.</param>
    /// <param name="enforcement">Enforces the precedence only where it holds; null: always.</param>
    public void AddPrecedence(CpActivity earlier, CpActivity later, int lagMinutes, ILiteral? enforcement = null)
    {
        if (later.Begun || IsFixedFalse(earlier.Present) || IsFixedFalse(later.Present)) return;
        if (earlier.FixedWork is not null && later.FixedWork is not null) return;
        if (earlier.FixedWork is { } fixedWork && (enforcement is null || IsFixedTrue(enforcement)))
        {
            foreach (var (_, _, _, starts) in StartDomainsOf(later))
                starts.AtLeast(CeilingUnit((long)fixedWork.To + lagMinutes));
        }
        else
            AtLeast(later.Start - earlier.End, CeilingUnit(lagMinutes),
                earlier.Present, later.Present, enforcement ?? TrueLiteral);
    }

    /// <summary>The shift ends by a minute. A shift that has begun and cannot end by then ends as early as it can.</summary>
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

    /// <summary>First minute at which a shift that has begun can end.</summary>
    public int EarliestEnd(CpShift shift) => Problem.Facts!.EarliestEnds[(shift.Person, shift.Night)];

    /// <summary>Posts that the expression has a value, enforced where all the literals hold.</summary>
    public void Equal(LinearExpr expression, long value, params ReadOnlySpan<ILiteral> enforcement) =>
        AddInDomain(new Domain(value), expression, enforcement);

    /// <summary>
    /// Posts that the expression lies in none of the closed ranges, enforced where all the literals hold. A range whose end is
    /// before its start is empty.
    /// </summary>
    public void Outside(
        LinearExpr expression, IReadOnlyList<(long From, long To)> ranges, params ReadOnlySpan<ILiteral> enforcement)
    {
        var nonempty = ranges.Where(range => range.From <= range.To).ToList();
        if (nonempty.Count > 0) AddInDomain(DomainOf(nonempty).Complement(), expression, enforcement);
    }

    private void AddInDomain(Domain domain, LinearExpr expression, ReadOnlySpan<ILiteral> enforcement)
    {
        if (!TryGetEnforcement(enforcement, out var literals)) return;
        var constraint = Cp.AddLinearExpressionInDomain(expression, domain);
        if (literals.Length > 0) constraint.OnlyEnforceIf(literals);
    }

    /// <summary>Posts that at least, or exactly, as many people of a set are assigned as the chosen mode needs.</summary>
    /// <param name="activity">The activity.</param>
    /// <param name="set">The people, one bit each.</param>
    /// <param name="neededBy">How many of the set a mode needs.</param>
    /// <param name="exactly">Posts an equation instead of a lower bound.</param>
    public void RequirePeople(CpActivity activity, ulong set, Func<HallConditions, int> neededBy, bool exactly)
    {
        var sum = LinearExpr.NewBuilder(activity.HasPerson.Length + activity.Modes.Count);
        for (var person = 0; person < activity.HasPerson.Length; person++)
            if ((set >> person & 1) == 1 && !IsFixedFalse(activity.HasPerson[person])) sum.Add(activity.HasPerson[person]);
        for (var mode = 0; mode < activity.Modes.Count; mode++)
            if (!IsFixedFalse(activity.InMode[mode]))
                sum.AddTerm(activity.InMode[mode], -neededBy(HallConditionsOf(activity.Modes[mode])));
        AddLinear(sum, 0, exactly ? 0 : long.MaxValue, []);
    }

    /// <summary>
    /// Posts a cumulative constraint: at every moment the activities under way demand at most the capacity. Where fixed work
    /// alone exceeds it, that is a fact: its demand counts as the whole capacity.
    /// </summary>
    /// <param name="capacity">The capacity.</param>
    /// <param name="demand">The demand of an activity in a mode.</param>
    public void AddCumulative(long capacity, Func<CpActivity, ActivityMode, int> demand)
    {
        var free = new List<(IntervalVar Interval, int Demand)>();
        var fixedDemands = new List<(long From, long To, int Demand)>();
        var sumOfLargest = 0L;
        foreach (var activity in Activities)
        {
            var largest = 0;
            for (var mode = 0; mode < activity.Modes.Count; mode++)
            {
                var required = demand(activity, activity.Modes[mode]);
                if (required == 0 || IsFixedFalse(activity.InMode[mode])) continue;
                if (activity.FixedWork is { } work)
                {
                    if (work.To > Now)
                        fixedDemands.Add((Math.Max(FloorUnit(work.From), CeilingUnit(Now)), CeilingUnit(work.To), required));
                }
                else if (required > capacity) FixFalse(activity.InMode[mode]);
                else free.Add((activity.Intervals[mode], required));
                largest = Math.Max(largest, required);
            }
            sumOfLargest += largest;
        }
        if (free.Count == 0 || sumOfLargest <= capacity) return;
        var cumulative = Cp.AddCumulative(capacity);
        foreach (var (interval, required) in free) cumulative.AddDemand(interval, required);
        foreach (var (from, to, required) in Profile(fixedDemands))
            cumulative.AddDemand(FixedInterval(from, to), Math.Min(required, capacity));
    }

    private IntervalVar FixedInterval(long from, long to) =>
        Cp.NewFixedSizeIntervalVar(LinearExpr.Constant(from), to - from, "");

    /// <summary>Paid minutes of a person in the week.</summary>
    public LinearExpr PaidMinutesOf(int person) =>
        LinearExpr.WeightedSum(ShiftsOf(person).Select(shift => shift.Worked), Problem.Nights.Select(_ => (long)Unit));

    /// <summary>Upper bound of <see cref="PaidMinutesOf"/>.</summary>
    public long MaxPaidMinutes(int person) => ShiftsOf(person).Where(shift => !IsFixedFalse(shift.Present))
        .Sum(shift => shift.FixedShift?.PaidMinutes
            ?? MinuteOf(Opens(shift.Night) + LastStep(shift) * ShiftStep)
                - Math.Min(Problem.Nights[shift.Night].Opens, shift.Begun?.From ?? int.MaxValue));

    /// <summary>
    /// A literal for: the person is assigned to the activity, and it is in that night. Where one of these is known, the literal
    /// of the other serves, and no new one is created.
    /// </summary>
    public ILiteral AssignedInNight(CpActivity activity, int person, int night)
    {
        var (assigned, inNight) = (activity.HasPerson[person], activity.InNight[night]);
        if (IsFixedFalse(assigned) || IsFixedFalse(inNight)) return FalseLiteral;
        if (IsFixedTrue(inNight) || PossibleNights(activity) == 1) return assigned;
        if (IsFixedTrue(assigned)) return inNight;
        if (!assignedInNight.TryGetValue((activity.Index, person, night), out var both))
        {
            assignedInNight[(activity.Index, person, night)] = both = Cp.NewBoolVar("");
            Cp.AddImplication(both, assigned);
            Cp.AddImplication(both, inNight);
            Cp.AddBoolOr([both, assigned.Not(), inNight.Not()]);
        }
        return both;
    }

    /// <summary>The same as <see cref="AssignedInNight"/>; null where the model would need too many new literals.</summary>
    public ILiteral? AssignedInNightOrNull(CpActivity activity, CpShift shift)
    {
        tooManyAssignmentLiterals ??= NotBegun.Sum(candidate => PossibleNights(candidate) is var nights and > 1
            ? nights * candidate.HasPerson.Count(assigned => !IsFixedFalse(assigned)) : 0) > MaxAssignmentLiterals;
        var needsLiteral = PossibleNights(activity) > 1 && !IsFixedTrue(activity.HasPerson[shift.Person]);
        return tooManyAssignmentLiterals.Value && needsLiteral ? null : AssignedInNight(activity, shift.Person, shift.Night);
    }

    private int PossibleNights(CpActivity activity) => activity.InNight.Count(inNight => !IsFixedFalse(inNight));

    /// <summary>Registers a literal for: somebody is on shift during a step of the shift grid.</summary>
    public void AddAttendedStep(int night, ILiteral stepAttended) => attendedSteps[night].Add(stepAttended);

    /// <summary>Last step of the shift grid at which the shift can end.</summary>
    public long LastStep(CpShift shift) => shift.FixedShift is { } fixedShift
        ? (CeilingUnit(fixedShift.To) - Opens(shift.Night) + ShiftStep - 1) / ShiftStep : shift.ToStep.Proto.Domain[^1];

    /// <summary>A literal for: the shift lasts from that step of the shift grid to the next one or longer.</summary>
    public ILiteral Covers(CpShift shift, long step)
    {
        var from = Opens(shift.Night) + step * ShiftStep;
        if (shift.FixedShift is { } fixedShift)
            return CeilingUnit(fixedShift.From) <= from && FloorUnit(fixedShift.To) >= from + ShiftStep
                ? TrueLiteral : FalseLiteral;
        if (step >= LastStep(shift)) return FalseLiteral;
        if (!covers.TryGetValue((shift.Person, shift.Night, step), out var covered))
        {
            covers[(shift.Person, shift.Night, step)] = covered = Cp.NewBoolVar("");
            AtMost(shift.FromStep, step, covered);
            AtLeast(shift.ToStep, step + 1, covered);
        }
        return covered;
    }

    /// <summary>
    /// Posts that a shift covers as many steps as it is long. This makes the literals of <see cref="Covers"/> equivalent to what
    /// they stand for.
    /// </summary>
    public void LinkCoverToLength(CpShift shift)
    {
        var steps = covers.Where(pair => (pair.Key.Person, pair.Key.Night) == (shift.Person, shift.Night)).ToArray();
        if (steps.Length == 0) return;
        var sum = LinearExpr.NewBuilder(steps.Length + 2);
        foreach (var (_, covered) in steps) sum.Add(covered);
        // A shift that has begun covers all steps from the first one with a literal to its end.
        if (shift.Begun is null) sum.Add(shift.FromStep);
        else sum.Add(steps.Min(pair => pair.Key.Step));
        AddLinear(sum.AddTerm(shift.ToStep, -1), 0, 0, []);
    }

    /// <summary>The sum of demands over time, as spans of constant demand; spans without demand are left out.</summary>
    private static IEnumerable<(long From, long To, int Demand)> Profile(List<(long From, long To, int Demand)> demands)
    {
        long[] moments = [.. demands.SelectMany(use => new[] { use.From, use.To }).Distinct().Order()];
        for (var next = 1; next < moments.Length; next++)
        {
            var (from, to) = (moments[next - 1], moments[next]);
            var sum = demands.Where(use => use.From <= from && use.To >= to).Sum(use => use.Demand);
            if (sum > 0) yield return (from, to, sum);
        }
    }
}

/// <summary>The span of a night in which the store is attended; a keyholder's shift has to cover it.</summary>
/// <param name="Night">Index of the night.</param>
/// <param name="From">At or before the start of every shift of the night.</param>
/// <param name="To">At or after the end of every shift of the night.</param>
/// <param name="Attended">Somebody has a shift in that night.</param>
internal sealed record CpStoreAttendance(int Night, IntVar From, IntVar To, ILiteral Attended);
