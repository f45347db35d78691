using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Exact.Variables;

internal sealed partial class CpWeekModel
{
    /// <summary>Units between the moments at which a shift may start or end.</summary>
    public long ShiftStep => (long)Problem.Grid.SlotMinutes / Gcd(Problem.Grid.SlotMinutes, Problem.ShiftGridMinutes) * Problem.ShiftGridMinutes / Unit;

    public long GridStep => Problem.Grid.SlotMinutes / Unit;

    public long Opens(int night) => CeilingUnit(Problem.Nights[night].Opens);

    private CpShift CreateShift(Person person, int night)
    {
        var published = Problem.Facts is { } facts ? ShiftIn(facts.Published, person.Index, night) : null;
        if (published is not null && published.To <= Now) return CreateFixedShift(person.Index, night, published);
        var begun = published is not null && published.From < Now ? published : null;
        if (FreeVariables is { Shifts: { } free } && !free[person.Index, night])
            return CreateFixedShift(person.Index, night, ShiftIn(FreeVariables.BaseSchedule, person.Index, night));
        if (begun is null && Problem.Nights[night].Closes <= Now) return CreateFixedShift(person.Index, night, null);
        return begun is null && FullNightShift.ShiftOf(Problem, person, night) is { } whole
            ? CreateFixedShift(person.Index, night, whole) : CreateFreeShift(person, night, begun);
    }

    private static ScheduledShift? ShiftIn(Schedule schedule, int person, int night) =>
        schedule.Shifts.FirstOrDefault(shift => shift.Person == person && shift.Night == night);

    private CpShift CreateFreeShift(Person person, int night, ScheduledShift? begun)
    {
        var steps = (CeilingUnit(Horizon(night).To) - Opens(night)) / ShiftStep;
        var on = begun is null ? Cp.NewBoolVar("") : TrueLiteral;
        var (fromStep, toStep) = (begun is null ? Cp.NewIntVar(0, steps, "") : Cp.NewConstant(0), Cp.NewIntVar(0, steps, ""));
        var from = begun is null ? LinearExpr.Affine(fromStep, ShiftStep, Opens(night)) : LinearExpr.Constant(CeilingUnit(begun.From));
        var to = LinearExpr.Affine(toStep, ShiftStep, Opens(night));
        var lengthStep = begun is null ? CreateLength(on, fromStep, toStep, steps) : null;
        var length = lengthStep is null ? to - from : LinearExpr.Term(lengthStep, ShiftStep);
        var resting = begun?.Break is { } taken && taken.From < Now ? taken : (Span?)null;
        var size = resting is { } known ? CeilingUnit(known.Minutes) : CeilingUnit(person.BreakMinutes);
        var gridSteps = (CeilingUnit(Horizon(night).To) - Opens(night)) / GridStep;
        var breakStep = Cp.NewIntVar(0, gridSteps, "");
        var rest = resting is not null ? TrueLiteral : size == 0 ? FalseLiteral : Cp.NewBoolVar("");
        var restFrom = resting is { } at ? LinearExpr.Constant(CeilingUnit(at.From))
            : LinearExpr.Affine(breakStep, GridStep, Opens(night));
        if (resting is null)
        {
            Implies(rest, on);
            AtLeast(restFrom - from, 0, rest);
        }
        AtLeast(to - restFrom, size, rest);
        if (resting is null && size > 0) AtLeast(length - LinearExpr.Term(rest, size), 0);
        return new CpShift
        {
            Person = person.Index, Night = night, Present = on, FromStep = fromStep, ToStep = toStep, From = from, To = to,
            Length = length, LengthStep = lengthStep, HasBreak = rest, BreakFrom = restFrom, BreakStep = breakStep, BreakLength = size,
            Worked = length - LinearExpr.Term(rest, size), Begun = begun,
        };
    }

    /// <summary>Steps that a shift lasts; off duty, its start, end and length are 0.</summary>
    private IntVar CreateLength(ILiteral on, IntVar from, IntVar to, long steps)
    {
        var length = Cp.NewIntVar(0, steps, "");
        AddLinear(to - from - length, 0, 0, []);
        AddLinear(length - on.AsExpr(), 0, long.MaxValue, []);
        AddLinear(length - LinearExpr.Term(on, steps), long.MinValue, 0, []);
        AddLinear(to - LinearExpr.Term(on, steps), long.MinValue, 0, []);
        return length;
    }

    private CpShift CreateFixedShift(int person, int night, ScheduledShift? shift)
    {
        var (from, to) = shift is null ? (Opens(night), Opens(night)) : (CeilingUnit(shift.From), CeilingUnit(shift.To));
        var zero = Cp.NewConstant(0);
        return new CpShift
        {
            Person = person, Night = night, Present = shift is null ? FalseLiteral : TrueLiteral, FromStep = zero, ToStep = zero,
            From = LinearExpr.Constant(from), To = LinearExpr.Constant(to), HasBreak = shift?.Break is null ? FalseLiteral : TrueLiteral,
            BreakFrom = LinearExpr.Constant(shift?.Break is { } rest ? CeilingUnit(rest.From) : 0), BreakStep = zero,
            BreakLength = shift?.Break is { } taken ? CeilingUnit(taken.Minutes) : 0,
            Length = LinearExpr.Constant(to - from), Worked = LinearExpr.Constant(shift is null ? 0 : shift.PaidMinutes / Unit),
            FixedShift = shift, IsFixed = true,
        };
    }

    /// <summary>Each person's work, and what keeps them from it, on one line of time.</summary>
    public void AddNoOverlaps()
    {
        foreach (var person in Problem.Crew)
        {
            var (work, busy) = (new List<IntervalVar>(), new List<(long From, long To)>());
            foreach (var activity in Activities)
            {
                var at = activity.HasPerson[person.Index];
                if (IsFixedFalse(at) || IsFixedFalse(activity.Present)) continue;
                if (activity.FixedWork is { } known && IsFixedTrue(at))
                {
                    if (BusyFrom(activity, person.Index) is { } from && from < CeilingUnit(known.To)) busy.Add((from, CeilingUnit(known.To)));
                }
                else work.Add(Cp.NewOptionalIntervalVar(activity.Start, activity.Size, activity.End, at, ""));
            }
            var away = UnavailableIntervals[person.Index];
            if (work.Count == 0 && ShiftsOf(person.Index).All(shift => shift.IsFixed)) continue;
            // Facts may overlap one another, and plans do not have to answer for that.
            work.AddRange(Union(busy).Select(span => FixedInterval(span.From, span.To)));
            if (work.Count == 0) continue;
            if (NoOverlapPerPerson) Cp.AddNoOverlap(work.Concat(away));
            else if (away.Count > 0)
            {
                var line = Cp.AddCumulative(work.Count);
                foreach (var interval in work) line.AddDemand(interval, 1);
                foreach (var interval in away) line.AddDemand(interval, work.Count);
            }
        }
    }

    /// <summary>
    /// Unit from which fixed work binds a person's time; begun work from now on, and not where their shift is over.
    /// </summary>
    private long? BusyFrom(CpActivity activity, int person)
    {
        if (!activity.Begun) return FloorUnit(activity.FixedWork!.From);
        return Shifts[person, activity.FixedWork!.Night].IsFixed ? null : Math.Max(FloorUnit(activity.FixedWork.From), CeilingUnit(Now));
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
