using Google.OrTools.Sat;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>
/// The whole problem as a constraint model: variables here, one constraint a rule in Rules, one expression a goal in Goals.
/// Moments are absolute, counted in the largest unit that the grid and all opens are multiples of; a night is a range of
/// the start's domain, so drying through the day and clock changes need nothing of their own.
/// </summary>
internal sealed partial class CpWeekModel
{
    private readonly Dictionary<ActivityMode, HallConditions> hallConditions = [];
    private readonly List<ILiteral>[] attendedSteps;

    /// <param name="problem">What is planned.</param>
    /// <param name="freeVariables">What may be decided; null: everything that the facts leave open.</param>
    public CpWeekModel(Problem problem, FreeVariables? freeVariables = null)
    {
        (Problem, FreeVariables) = (problem, freeVariables);
        Unit = UnitOf(problem);
        TrueLiteral = Cp.TrueLiteral();
        FalseLiteral = Cp.FalseLiteral();
        Placed = [.. problem.Displays.Select(PlacedLiteral)];
        Activities = CreateActivities();
        Shifts = new CpShift[problem.Crew.Count, problem.Nights.Count];
        foreach (var person in problem.Crew)
            foreach (var night in problem.Nights) Shifts[person.Index, night.Index] = CreateShift(person, night.Index);
        attendedSteps = [.. problem.Nights.Select(_ => new List<ILiteral>())];
        UnavailableIntervals = [.. problem.Crew.Select(_ => new List<IntervalVar>())];
    }

    public Problem Problem { get; }
    public FreeVariables? FreeVariables { get; }
    public CpModel Cp { get; } = new();

    /// <summary>Minutes.</summary>
    public int Unit { get; }

    public ILiteral TrueLiteral { get; }
    public ILiteral FalseLiteral { get; }

    /// <summary>By display.</summary>
    public ILiteral[] Placed { get; }

    /// <summary>Stints in their order, then clean-downs.</summary>
    public IReadOnlyList<CpActivity> Activities { get; }

    /// <summary>By person and night.</summary>
    public CpShift[,] Shifts { get; }

    /// <summary>By person: time off shift and breaks, in which nothing is worked.</summary>
    public List<IntervalVar>[] UnavailableIntervals { get; }

    /// <summary>Whether work of one person excludes other work of theirs.</summary>
    public bool NoOverlapPerPerson { get; set; }

    /// <summary>A rule found that nothing fits; the model need not be solved.</summary>
    public bool Infeasible { get; private set; }

    public IEnumerable<CpActivity> Stints => Activities.Take(Problem.Stints.Count);
    public IEnumerable<CpActivity> CleanDowns => Activities.Skip(Problem.Stints.Count);
    public IEnumerable<CpShift> AllShifts => Shifts.Cast<CpShift>();

    /// <summary>Jobs that the rules still bind.</summary>
    public IEnumerable<CpActivity> NotBegun => Activities.Where(activity => !activity.Begun);

    /// <summary>Minute before which nothing new may happen.</summary>
    public int Now => Problem.Facts?.Now ?? -Problem.Never;

    public IEnumerable<CpShift> ShiftsOf(int person) => Problem.Nights.Select(night => Shifts[person, night.Index]);
    public IEnumerable<CpShift> ShiftsOn(int night) => Problem.Crew.Select(person => Shifts[person.Index, night]);

    /// <summary>First unit at or after a minute.</summary>
    public long CeilingUnit(long minute) => minute >= 0 ? (minute + Unit - 1) / Unit : -(-minute / Unit);

    /// <summary>Last unit at or before a minute.</summary>
    public long FloorUnit(long minute) => -CeilingUnit(-minute);

    public bool IsFixedTrue(ILiteral literal) => FixedValueOf(literal) == true;
    public bool IsFixedFalse(ILiteral literal) => FixedValueOf(literal) == false;

    public void FixFalse(ILiteral literal) => Fix(literal, false);

    public void FixTrue(ILiteral literal) => Fix(literal, true);

    public void MarkInfeasible() => Infeasible = true;

    /// <summary>The literals imply that the sum is at least so much.</summary>
    public void AtLeast(LinearExpr sum, long minimum, params ReadOnlySpan<ILiteral> enforcement)
    {
        if (TryGetEnforcement(enforcement, out var literals)) AddLinear(sum, minimum, long.MaxValue, literals);
    }

    public void AtMost(LinearExpr sum, long maximum, params ReadOnlySpan<ILiteral> enforcement)
    {
        if (TryGetEnforcement(enforcement, out var literals)) AddLinear(sum, long.MinValue, maximum, literals);
    }

    /// <summary>Not all of the literals hold.</summary>
    public void NotAll(params ReadOnlySpan<ILiteral> all)
    {
        if (!TryGetEnforcement(all, out var literals)) return;
        if (literals.Length == 0) MarkInfeasible();
        else if (literals.Length == 1) FixFalse(literals[0]);
        else Cp.AddBoolOr(literals.Select(literal => literal.Not()));
    }

    public void Implies(ILiteral premise, ILiteral conclusion)
    {
        if (IsFixedTrue(conclusion)) return;
        if (IsFixedFalse(conclusion)) FixFalse(premise);
        else if (IsFixedTrue(premise)) FixTrue(conclusion);
        else if (!IsFixedFalse(premise)) Cp.AddImplication(premise, conclusion);
    }

    /// <summary>False where one of them cannot hold; else those that are not certain.</summary>
    private bool TryGetEnforcement(ReadOnlySpan<ILiteral> enforcement, out ILiteral[] literals)
    {
        var left = new List<ILiteral>(enforcement.Length);
        foreach (var literal in enforcement)
        {
            var value = FixedValueOf(literal);
            if (value == false)
            {
                literals = [];
                return false;
            }
            if (value is null) left.Add(literal);
        }
        literals = [.. left];
        return true;
    }

    private void AddLinear(LinearExpr sum, long minimum, long maximum, ILiteral[] enforcement)
    {
        var constraint = Cp.AddLinearConstraint(sum, minimum, maximum);
        if (enforcement.Length > 0) constraint.OnlyEnforceIf(enforcement);
    }

    private bool? FixedValueOf(ILiteral literal)
    {
        var index = literal.GetIndex();
        var domain = Cp.Model.Variables[index >= 0 ? index : -index - 1].Domain;
        return domain[0] != domain[^1] ? null : domain[0] == 1 == index >= 0;
    }

    private void Fix(ILiteral literal, bool value)
    {
        if (FixedValueOf(literal) is { } already)
        {
            Infeasible |= already != value;
            return;
        }
        var index = literal.GetIndex();
        var domain = Cp.Model.Variables[index >= 0 ? index : -index - 1].Domain;
        domain[0] = domain[1] = value == index >= 0 ? 1 : 0;
    }

    private static int UnitOf(Problem problem)
    {
        var unit = problem.Grid.SlotMinutes;
        foreach (var night in problem.Nights) unit = Gcd(unit, night.Opens);
        foreach (var shift in problem.Facts is { } facts ? facts.EndedShifts.Concat(facts.BegunShifts) : [])
        {
            unit = Gcd(Gcd(unit, shift.From), shift.To);
            if (shift.Break is { } rest) unit = Gcd(Gcd(unit, rest.From), rest.To);
        }
        return unit;
    }

    private static int Gcd(int one, int other)
    {
        other = Math.Abs(other);
        while (other != 0) (one, other) = (other, one % other);
        return one;
    }
}
