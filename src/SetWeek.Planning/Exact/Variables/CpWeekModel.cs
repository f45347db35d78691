using Google.OrTools.Sat;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>
/// The whole problem as a CP-SAT model. This type holds the variables. Exact/Rules posts one constraint for each rule, and
/// Exact/Goals one expression for each goal. Times are absolute, in units: the greatest common divisor of the grid, all opening
/// times and, in a re-plan, the times of begun shifts. A night is a range in the domain of a start. So drying times that span a
/// day and changes of the clock need no special treatment.
/// </summary>
internal sealed partial class CpWeekModel
{
    private readonly Dictionary<ActivityMode, HallConditions> hallConditions = [];
    private readonly List<ILiteral>[] attendedSteps;

    /// <param name="problem">The problem to model.</param>
    /// <param name="freeVariables">The free decisions; null: all that the facts of a re-plan leave open.</param>
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

    /// <summary>Minutes in one unit of the model's times and lengths.</summary>
    public int Unit { get; }

    public ILiteral TrueLiteral { get; }
    public ILiteral FalseLiteral { get; }

    /// <summary>By display: it is placed.</summary>
    public ILiteral[] Placed { get; }

    /// <summary>Stints in their order, then clean-downs.</summary>
    public IReadOnlyList<CpActivity> Activities { get; }

    /// <summary>By person and night.</summary>
    public CpShift[,] Shifts { get; }

    /// <summary>By person: intervals outside their shifts, and breaks. No work of theirs overlaps them.</summary>
    public List<IntervalVar>[] UnavailableIntervals { get; }

    /// <summary>A person does one thing at a time; set by the rule that says so.</summary>
    public bool NoOverlapPerPerson { get; set; }

    /// <summary>Found infeasible while rules were posted; a solve is not needed.</summary>
    public bool Infeasible { get; private set; }

    public IEnumerable<CpActivity> Stints => Activities.Take(Problem.Stints.Count);
    public IEnumerable<CpActivity> CleanDowns => Activities.Skip(Problem.Stints.Count);
    public IEnumerable<CpShift> AllShifts => Shifts.Cast<CpShift>();

    /// <summary>Activities that have not begun. Rules bind only these.</summary>
    public IEnumerable<CpActivity> NotBegun => Activities.Where(activity => !activity.Begun);

    /// <summary>The minute before which nothing new may start (re-plan). For a first plan, far before the first night.</summary>
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

    /// <summary>Posts a lower bound of a sum, enforced where all the literals hold.</summary>
    public void AtLeast(LinearExpr sum, long minimum, params ReadOnlySpan<ILiteral> enforcement)
    {
        if (TryGetEnforcement(enforcement, out var literals)) AddLinear(sum, minimum, long.MaxValue, literals);
    }

    /// <summary>Posts an upper bound of a sum, enforced where all the literals hold.</summary>
    public void AtMost(LinearExpr sum, long maximum, params ReadOnlySpan<ILiteral> enforcement)
    {
        if (TryGetEnforcement(enforcement, out var literals)) AddLinear(sum, long.MinValue, maximum, literals);
    }

    /// <summary>Posts that at least one of the literals is false.</summary>
    public void NotAll(params ReadOnlySpan<ILiteral> all)
    {
        if (!TryGetEnforcement(all, out var literals)) return;
        if (literals.Length == 0) MarkInfeasible();
        else if (literals.Length == 1) FixFalse(literals[0]);
        else Cp.AddBoolOr(literals.Select(literal => literal.Not()));
    }

    /// <summary>Posts that the premise implies the conclusion, by fixing literals where one of them is fixed.</summary>
    public void Implies(ILiteral premise, ILiteral conclusion)
    {
        if (IsFixedTrue(conclusion)) return;
        if (IsFixedFalse(conclusion)) FixFalse(premise);
        else if (IsFixedTrue(premise)) FixTrue(conclusion);
        else if (!IsFixedFalse(premise)) Cp.AddImplication(premise, conclusion);
    }

    /// <summary>False where a literal is fixed to false, so nothing is enforced; else the literals that are not fixed.</summary>
    private bool TryGetEnforcement(ReadOnlySpan<ILiteral> enforcement, out ILiteral[] literals)
    {
        var unfixed = new List<ILiteral>(enforcement.Length);
        foreach (var literal in enforcement)
        {
            var value = FixedValueOf(literal);
            if (value == false)
            {
                literals = [];
                return false;
            }
            if (value is null) unfixed.Add(literal);
        }
        literals = [.. unfixed];
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

    private static int Gcd(int first, int second)
    {
        second = Math.Abs(second);
        while (second != 0) (first, second) = (second, first % second);
        return first;
    }
}
