using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Exact.Variables;

internal sealed partial class ExactModel
{
    /// <summary>Units between the moments at which a shift may start or end.</summary>
    public long ShiftStep => (long)Problem.Grid.Minutes / Gcd(Problem.Grid.Minutes, Problem.ShiftGrid) * Problem.ShiftGrid / Unit;

    public long GridStep => Problem.Grid.Minutes / Unit;

    public long Opens(int night) => Up(Problem.Nights[night].Opens);

    private ExactDuty DutyOf(Person person, int night)
    {
        var published = Problem.Facts is { } facts ? ShiftIn(facts.Published, person.Index, night) : null;
        if (published is not null && published.To <= Now) return FixedDuty(person.Index, night, published);
        var begun = published is not null && published.From < Now ? published : null;
        if (Freedom is { Shifts: { } free } && !free[person.Index, night])
            return FixedDuty(person.Index, night, ShiftIn(Freedom.Around, person.Index, night));
        if (begun is null && Problem.Nights[night].Closes <= Now) return FixedDuty(person.Index, night, null);
        return begun is null && WholeNight.Of(Problem, person, night) is { } whole
            ? FixedDuty(person.Index, night, whole) : FreeDuty(person, night, begun);
    }

    private static Shift? ShiftIn(Schedule plan, int person, int night) =>
        plan.Shifts.FirstOrDefault(shift => shift.Person == person && shift.Night == night);

    private ExactDuty FreeDuty(Person person, int night, Shift? begun)
    {
        var steps = (Up(Reach(night).To) - Opens(night)) / ShiftStep;
        var on = begun is null ? Cp.NewBoolVar("") : Yes;
        var (fromStep, toStep) = (begun is null ? Cp.NewIntVar(0, steps, "") : Cp.NewConstant(0), Cp.NewIntVar(0, steps, ""));
        var from = begun is null ? LinearExpr.Affine(fromStep, ShiftStep, Opens(night)) : LinearExpr.Constant(Up(begun.From));
        var to = LinearExpr.Affine(toStep, ShiftStep, Opens(night));
        var lengthStep = begun is null ? LengthOf(on, fromStep, toStep, steps) : null;
        var length = lengthStep is null ? to - from : LinearExpr.Term(lengthStep, ShiftStep);
        var resting = begun?.Break is { } taken && taken.From < Now ? taken : (Span?)null;
        var size = resting is { } known ? Up(known.Minutes) : Up(person.BreakMinutes);
        var gridSteps = (Up(Reach(night).To) - Opens(night)) / GridStep;
        var breakStep = Cp.NewIntVar(0, gridSteps, "");
        var rest = resting is not null ? Yes : size == 0 ? No : Cp.NewBoolVar("");
        var restFrom = resting is { } at ? LinearExpr.Constant(Up(at.From))
            : LinearExpr.Affine(breakStep, GridStep, Opens(night));
        if (resting is null)
        {
            Implies(rest, on);
            AtLeast(restFrom - from, 0, rest);
        }
        AtLeast(to - restFrom, size, rest);
        if (resting is null && size > 0) AtLeast(length - LinearExpr.Term(rest, size), 0);
        return new ExactDuty
        {
            Person = person.Index, Night = night, On = on, FromStep = fromStep, ToStep = toStep, From = from, To = to,
            Length = length, LengthStep = lengthStep, Break = rest, BreakFrom = restFrom, BreakStep = breakStep, BreakSize = size,
            Worked = length - LinearExpr.Term(rest, size), Begun = begun,
        };
    }

    /// <summary>Steps that a shift lasts; off duty, its start, end and length are 0.</summary>
    private IntVar LengthOf(ILiteral on, IntVar from, IntVar to, long steps)
    {
        var length = Cp.NewIntVar(0, steps, "");
        Post(to - from - length, 0, 0, []);
        Post(length - on.AsExpr(), 0, long.MaxValue, []);
        Post(length - LinearExpr.Term(on, steps), long.MinValue, 0, []);
        Post(to - LinearExpr.Term(on, steps), long.MinValue, 0, []);
        return length;
    }

    private ExactDuty FixedDuty(int person, int night, Shift? shift)
    {
        var (from, to) = shift is null ? (Opens(night), Opens(night)) : (Up(shift.From), Up(shift.To));
        var zero = Cp.NewConstant(0);
        return new ExactDuty
        {
            Person = person, Night = night, On = shift is null ? No : Yes, FromStep = zero, ToStep = zero,
            From = LinearExpr.Constant(from), To = LinearExpr.Constant(to), Break = shift?.Break is null ? No : Yes,
            BreakFrom = LinearExpr.Constant(shift?.Break is { } rest ? Up(rest.From) : 0), BreakStep = zero,
            BreakSize = shift?.Break is { } taken ? Up(taken.Minutes) : 0,
            Length = LinearExpr.Constant(to - from), Worked = LinearExpr.Constant(shift is null ? 0 : shift.PaidMinutes / Unit),
            Fixed = shift, Settled = true,
        };
    }

    /// <summary>Each person's work, and what keeps them from it, on one line of time.</summary>
    public void CloseTimelines()
    {
        foreach (var person in Problem.Crew)
        {
            var (work, busy) = (new List<IntervalVar>(), new List<(long From, long To)>());
            foreach (var job in Jobs)
            {
                var at = job.People[person.Index];
                if (IsNo(at) || IsNo(job.Present)) continue;
                if (job.Fixed is { } known && IsYes(at))
                {
                    if (BusyFrom(job, person.Index) is { } from && from < Up(known.To)) busy.Add((from, Up(known.To)));
                }
                else work.Add(Cp.NewOptionalIntervalVar(job.Start, job.Size, job.End, at, ""));
            }
            var away = Away[person.Index];
            if (work.Count == 0 && DutiesOf(person.Index).All(duty => duty.Settled)) continue;
            // Facts may overlap one another, and plans do not have to answer for that.
            work.AddRange(Union(busy).Select(span => Constant(span.From, span.To)));
            if (work.Count == 0) continue;
            if (OneAtATime) Cp.AddNoOverlap(work.Concat(away));
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
    private long? BusyFrom(ExactJob job, int person)
    {
        if (!job.Begun) return Down(job.Fixed!.From);
        return Duties[person, job.Fixed!.Night].Settled ? null : Math.Max(Down(job.Fixed.From), Up(Now));
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
