using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Exact.Variables;

internal sealed partial class CpWeekModel
{
    /// <summary>
    /// Units between two possible starts or ends of a shift: the least common multiple of the grid and the shift grid.
    /// </summary>
    public long ShiftStep => (long)Problem.Grid.SlotMinutes
        / Gcd(Problem.Grid.SlotMinutes, Problem.ShiftGridMinutes) * Problem.ShiftGridMinutes / Unit;

    /// <summary>Units between two possible starts of work or of a break.</summary>
    public long GridStep => Problem.Grid.SlotMinutes / Unit;

    /// <summary>The unit at which a night opens.</summary>
    public long Opens(int night) => CeilingUnit(Problem.Nights[night].Opens);

    private CpShift CreateShift(Person person, int night)
    {
        var published = Problem.Facts is { } facts ? ShiftIn(facts.Published, person.Index, night) : null;
        if (published is not null && published.To <= Now) return CreateFixedShift(person.Index, night, published);
        var begun = published is not null && published.From < Now ? published : null;
        if (FreeVariables is { Shifts: { } free } && !free[person.Index, night])
            return CreateFixedShift(person.Index, night, ShiftIn(FreeVariables.BaseSchedule, person.Index, night));
        if (begun is null && Problem.Nights[night].Closes <= Now) return CreateFixedShift(person.Index, night, null);
        return begun is null && FullNightShift.ShiftOf(Problem, person, night) is { } fullNight
            ? CreateFixedShift(person.Index, night, fullNight) : CreateFreeShift(person, night, begun);
    }

    private static ScheduledShift? ShiftIn(Schedule schedule, int person, int night) =>
        schedule.Shifts.FirstOrDefault(shift => shift.Person == person && shift.Night == night);

    /// <summary>Variables of a shift; where it has begun, it is present and its start and begun break are constants.</summary>
    private CpShift CreateFreeShift(Person person, int night, ScheduledShift? begun)
    {
        var steps = (CeilingUnit(Horizon(night).To) - Opens(night)) / ShiftStep;
        var present = begun is null ? Cp.NewBoolVar("") : TrueLiteral;
        var (fromStep, toStep) = (begun is null ? Cp.NewIntVar(0, steps, "") : Cp.NewConstant(0), Cp.NewIntVar(0, steps, ""));
        var from = begun is null
            ? LinearExpr.Affine(fromStep, ShiftStep, Opens(night)) : LinearExpr.Constant(CeilingUnit(begun.From));
        var to = LinearExpr.Affine(toStep, ShiftStep, Opens(night));
        var lengthStep = begun is null ? CreateLength(present, fromStep, toStep, steps) : null;
        var length = lengthStep is null ? to - from : LinearExpr.Term(lengthStep, ShiftStep);
        var begunBreak = begun?.Break is { } taken && taken.From < Now ? taken : (Span?)null;
        var breakLength = CeilingUnit(begunBreak?.Minutes ?? person.BreakMinutes);
        var gridSteps = (CeilingUnit(Horizon(night).To) - Opens(night)) / GridStep;
        var breakStep = Cp.NewIntVar(0, gridSteps, "");
        var hasBreak = begunBreak is not null ? TrueLiteral : breakLength == 0 ? FalseLiteral : Cp.NewBoolVar("");
        var breakFrom = begunBreak is { } span ? LinearExpr.Constant(CeilingUnit(span.From))
            : LinearExpr.Affine(breakStep, GridStep, Opens(night));
        if (begunBreak is null)
        {
            Implies(hasBreak, present);
            AtLeast(breakFrom - from, 0, hasBreak);
        }
        AtLeast(to - breakFrom, breakLength, hasBreak);
        if (begunBreak is null && breakLength > 0) AtLeast(length - LinearExpr.Term(hasBreak, breakLength), 0);
        return new CpShift
        {
            Person = person.Index, Night = night, Present = present, FromStep = fromStep, ToStep = toStep, From = from, To = to,
            Length = length, LengthStep = lengthStep, HasBreak = hasBreak, BreakFrom = breakFrom, BreakStep = breakStep,
            BreakLength = breakLength, Worked = length - LinearExpr.Term(hasBreak, breakLength), Begun = begun,
        };
    }

    /// <summary>
    /// A variable for the length of a shift, in steps. Where the shift is absent, its start, end and length are 0; otherwise the
    /// length is at least 1.
    /// </summary>
    private IntVar CreateLength(ILiteral present, IntVar from, IntVar to, long steps)
    {
        var length = Cp.NewIntVar(0, steps, "");
        AddLinear(to - from - length, 0, 0, []);
        AddLinear(length - present.AsExpr(), 0, long.MaxValue, []);
        AddLinear(length - LinearExpr.Term(present, steps), long.MinValue, 0, []);
        AddLinear(to - LinearExpr.Term(present, steps), long.MinValue, 0, []);
        return length;
    }

    private CpShift CreateFixedShift(int person, int night, ScheduledShift? shift)
    {
        var (from, to) = shift is null ? (Opens(night), Opens(night)) : (CeilingUnit(shift.From), CeilingUnit(shift.To));
        var zero = Cp.NewConstant(0);
        return new CpShift
        {
            Person = person, Night = night, Present = shift is null ? FalseLiteral : TrueLiteral,
            FromStep = zero, ToStep = zero, From = LinearExpr.Constant(from), To = LinearExpr.Constant(to),
            HasBreak = shift?.Break is null ? FalseLiteral : TrueLiteral, BreakStep = zero,
            BreakFrom = LinearExpr.Constant(shift?.Break is { } span ? CeilingUnit(span.From) : 0),
            BreakLength = shift?.Break is { } taken ? CeilingUnit(taken.Minutes) : 0,
            Length = LinearExpr.Constant(to - from), Worked = LinearExpr.Constant(shift is null ? 0 : shift.PaidMinutes / Unit),
            FixedShift = shift, IsFixed = true,
        };
    }

    /// <summary>
    /// Posts for each person that their work lies inside their shifts and outside their breaks. It also posts that their work
    /// does not overlap other work of theirs, where <see cref="NoOverlapPerPerson"/> is set.
    /// </summary>
    public void AddNoOverlaps()
    {
        foreach (var person in Problem.Crew)
        {
            var (work, busy) = (new List<IntervalVar>(), new List<(long From, long To)>());
            foreach (var activity in Activities)
            {
                var assigned = activity.HasPerson[person.Index];
                if (IsFixedFalse(assigned) || IsFixedFalse(activity.Present)) continue;
                if (activity.FixedWork is { } fixedWork && IsFixedTrue(assigned))
                {
                    var to = CeilingUnit(fixedWork.To);
                    if (BusyFrom(activity, person.Index) is { } from && from < to) busy.Add((from, to));
                }
                else work.Add(Cp.NewOptionalIntervalVar(activity.Start, activity.Size, activity.End, assigned, ""));
            }
            var unavailable = UnavailableIntervals[person.Index];
            if (work.Count == 0 && ShiftsOf(person.Index).All(shift => shift.IsFixed)) continue;
            // Fixed work may overlap other fixed work, since begun work is a fact. Its union leaves the model feasible.
            work.AddRange(Union(busy).Select(span => FixedInterval(span.From, span.To)));
            if (work.Count == 0) continue;
            if (NoOverlapPerPerson) Cp.AddNoOverlap(work.Concat(unavailable));
            else if (unavailable.Count > 0)
            {
                // Work may overlap work, but not an unavailable interval, whose demand is the whole capacity.
                var cumulative = Cp.AddCumulative(work.Count);
                foreach (var interval in work) cumulative.AddDemand(interval, 1);
                foreach (var interval in unavailable) cumulative.AddDemand(interval, work.Count);
            }
        }
    }

    /// <summary>
    /// Unit from which fixed work occupies a person. Begun work does so from now on, and not at all where their shift is fixed
    /// (null).
    /// </summary>
    private long? BusyFrom(CpActivity activity, int person)
    {
        if (!activity.Begun) return FloorUnit(activity.FixedWork!.From);
        return Shifts[person, activity.FixedWork!.Night].IsFixed
            ? null : Math.Max(FloorUnit(activity.FixedWork.From), CeilingUnit(Now));
    }

    private static List<(long From, long To)> Union(List<(long From, long To)> spans)
    {
        var union = new List<(long From, long To)>();
        foreach (var span in spans.OrderBy(span => span.From))
            if (union.Count > 0 && span.From <= union[^1].To) union[^1] = (union[^1].From, Math.Max(union[^1].To, span.To));
            else union.Add(span);
        return union;
    }
}
