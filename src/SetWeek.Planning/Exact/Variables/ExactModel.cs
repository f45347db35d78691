using Google.OrTools.Sat;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>
/// The whole problem as a constraint model: variables here, one constraint a rule in Rules, one expression a goal in Goals.
/// Moments are absolute, counted in the largest unit that the grid and all opens are multiples of; a night is a range of
/// the start's domain, so drying through the day and clock changes need nothing of their own.
/// </summary>
internal sealed partial class ExactModel
{
    private readonly Dictionary<Way, Crewing> crewings = [];
    private readonly List<ILiteral>[] attended;

    /// <param name="problem">What is planned.</param>
    /// <param name="freedom">What may be decided; null: everything that the facts leave open.</param>
    public ExactModel(Problem problem, Freedom? freedom = null)
    {
        (Problem, Freedom) = (problem, freedom);
        Unit = UnitOf(problem);
        Yes = Cp.TrueLiteral();
        No = Cp.FalseLiteral();
        Placed = [.. problem.Displays.Select(PlacedLiteral)];
        Jobs = JobsOf();
        Duties = new ExactDuty[problem.Crew.Count, problem.Nights.Count];
        foreach (var person in problem.Crew)
            foreach (var night in problem.Nights) Duties[person.Index, night.Index] = DutyOf(person, night.Index);
        attended = [.. problem.Nights.Select(_ => new List<ILiteral>())];
        Away = [.. problem.Crew.Select(_ => new List<IntervalVar>())];
    }

    public Problem Problem { get; }
    public Freedom? Freedom { get; }
    public CpModel Cp { get; } = new();

    /// <summary>Minutes.</summary>
    public int Unit { get; }

    public ILiteral Yes { get; }
    public ILiteral No { get; }

    /// <summary>By display.</summary>
    public ILiteral[] Placed { get; }

    /// <summary>Stints in their order, then clean-downs.</summary>
    public IReadOnlyList<ExactJob> Jobs { get; }

    /// <summary>By person and night.</summary>
    public ExactDuty[,] Duties { get; }

    /// <summary>By person: time off shift and breaks, in which nothing is worked.</summary>
    public List<IntervalVar>[] Away { get; }

    /// <summary>Whether work of one person excludes other work of theirs.</summary>
    public bool OneAtATime { get; set; }

    /// <summary>A rule found that nothing fits; the model need not be solved.</summary>
    public bool Impossible { get; private set; }

    public IEnumerable<ExactJob> Stints => Jobs.Take(Problem.Stints.Count);
    public IEnumerable<ExactJob> CleanDowns => Jobs.Skip(Problem.Stints.Count);
    public IEnumerable<ExactDuty> AllDuties => Duties.Cast<ExactDuty>();

    /// <summary>Jobs that the rules still bind.</summary>
    public IEnumerable<ExactJob> Open => Jobs.Where(job => !job.Begun);

    /// <summary>Minute before which nothing new may happen.</summary>
    public int Now => Problem.Facts?.Now ?? -Problem.Never;

    public IEnumerable<ExactDuty> DutiesOf(int person) => Problem.Nights.Select(night => Duties[person, night.Index]);
    public IEnumerable<ExactDuty> DutiesOn(int night) => Problem.Crew.Select(person => Duties[person.Index, night]);

    /// <summary>First unit at or after a minute.</summary>
    public long Up(long minute) => minute >= 0 ? (minute + Unit - 1) / Unit : -(-minute / Unit);

    /// <summary>Last unit at or before a minute.</summary>
    public long Down(long minute) => -Up(-minute);

    public bool IsYes(ILiteral literal) => Fixed(literal) == true;
    public bool IsNo(ILiteral literal) => Fixed(literal) == false;

    public void Deny(ILiteral literal) => Fix(literal, false);

    public void Demand(ILiteral literal) => Fix(literal, true);

    public void Fail() => Impossible = true;

    /// <summary>The literals imply that the sum is at least so much.</summary>
    public void AtLeast(LinearExpr sum, long least, params ReadOnlySpan<ILiteral> where)
    {
        if (Enforcing(where, out var literals)) Post(sum, least, long.MaxValue, literals);
    }

    public void AtMost(LinearExpr sum, long most, params ReadOnlySpan<ILiteral> where)
    {
        if (Enforcing(where, out var literals)) Post(sum, long.MinValue, most, literals);
    }

    /// <summary>Not all of the literals hold.</summary>
    public void Never(params ReadOnlySpan<ILiteral> all)
    {
        if (!Enforcing(all, out var literals)) return;
        if (literals.Length == 0) Fail();
        else if (literals.Length == 1) Deny(literals[0]);
        else Cp.AddBoolOr(literals.Select(literal => literal.Not()));
    }

    public void Implies(ILiteral one, ILiteral other)
    {
        if (IsYes(other)) return;
        if (IsNo(other)) Deny(one);
        else if (IsYes(one)) Demand(other);
        else if (!IsNo(one)) Cp.AddImplication(one, other);
    }

    /// <summary>False where one of them cannot hold; else those that are not certain.</summary>
    private bool Enforcing(ReadOnlySpan<ILiteral> where, out ILiteral[] literals)
    {
        var left = new List<ILiteral>(where.Length);
        foreach (var literal in where)
        {
            var value = Fixed(literal);
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

    private void Post(LinearExpr sum, long least, long most, ILiteral[] where)
    {
        var constraint = Cp.AddLinearConstraint(sum, least, most);
        if (where.Length > 0) constraint.OnlyEnforceIf(where);
    }

    private bool? Fixed(ILiteral literal)
    {
        var index = literal.GetIndex();
        var domain = Cp.Model.Variables[index >= 0 ? index : -index - 1].Domain;
        return domain[0] != domain[^1] ? null : domain[0] == 1 == index >= 0;
    }

    private void Fix(ILiteral literal, bool value)
    {
        if (Fixed(literal) is { } already)
        {
            Impossible |= already != value;
            return;
        }
        var index = literal.GetIndex();
        var domain = Cp.Model.Variables[index >= 0 ? index : -index - 1].Domain;
        domain[0] = domain[1] = value == index >= 0 ? 1 : 0;
    }

    private static int UnitOf(Problem problem)
    {
        var unit = problem.Grid.Minutes;
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
