namespace SetWeek.Planning.Bounds.Linear;

/// <summary>
/// A linear relaxation: bounded integer columns and rows with whole coefficients, independent of the solver.
/// </summary>
internal sealed class LinearModel
{
    /// <summary>Lower side of a row that is bounded from above only.</summary>
    public const long NoLowerBound = long.MinValue / 4;

    private readonly List<(long Lower, long Upper, int? Night)> columns = [];
    private readonly List<(LinearExpression Sum, long Lower, long Upper)> rows = [];

    /// <summary>Night: the night that a column describes; null for a column of the whole week.</summary>
    public IReadOnlyList<(long Lower, long Upper, int? Night)> Columns => columns;

    /// <summary>Lower &lt;= Sum &lt;= Upper. The constant of each sum has been moved to the two sides.</summary>
    public IReadOnlyList<(LinearExpression Sum, long Lower, long Upper)> Rows => rows;

    public LinearExpression NewBinary(int? night = null) => NewColumn(0, 1, night);

    /// <summary>A new column as an expression; a constant, and no column, where both bounds are equal.</summary>
    public LinearExpression NewColumn(long lower, long upper, int? night = null)
    {
        if (lower == upper) return new LinearExpression().Add(lower);
        columns.Add((lower, upper, night));
        return new LinearExpression().Add(columns.Count - 1, 1);
    }

    /// <summary>The night that all columns of a sum describe; null where they describe several nights, or the week.</summary>
    public int? NightOf(LinearExpression sum)
    {
        if (sum.Terms.Count == 0) return null;
        var night = columns[sum.Terms[0].Column].Night;
        foreach (var (column, _) in sum.Terms) if (columns[column].Night != night) return null;
        return night;
    }

    public void AddAtMostZero(LinearExpression sum) => AddRow(sum, NoLowerBound, 0);

    public void AddEqualsZero(LinearExpression sum) => AddRow(sum, 0, 0);

    private void AddRow(LinearExpression sum, long lower, long upper)
    {
        var row = sum.CollectTerms();
        // A row without terms is kept: where its constant violates it, the relaxation and the week are infeasible.
        rows.Add((row, lower <= NoLowerBound ? lower : lower - row.Constant, upper - row.Constant));
    }
}

/// <summary>A linear sum over columns plus a constant. The Add methods change it and return it.</summary>
internal sealed class LinearExpression
{
    private readonly List<(int Column, long Factor)> terms = [];

    public long Constant { get; private set; }
    public IReadOnlyList<(int Column, long Factor)> Terms => terms;
    public bool IsZero => terms.Count == 0 && Constant == 0;

    public LinearExpression Add(long constant)
    {
        Constant += constant;
        return this;
    }

    public LinearExpression Add(int column, long coefficient)
    {
        if (coefficient != 0) terms.Add((column, coefficient));
        return this;
    }

    public LinearExpression Add(LinearExpression other, long coefficient = 1)
    {
        if (coefficient == 0) return this;
        foreach (var (column, own) in other.terms) terms.Add((column, own * coefficient));
        Constant += other.Constant * coefficient;
        return this;
    }

    public static LinearExpression SumOf(IEnumerable<LinearExpression> sums)
    {
        var total = new LinearExpression();
        foreach (var sum in sums) total.Add(sum);
        return total;
    }

    /// <summary>An equal sum in which each column occurs once, in order of index.</summary>
    public LinearExpression CollectTerms()
    {
        var collected = new LinearExpression().Add(Constant);
        foreach (var column in terms.GroupBy(term => term.Column).OrderBy(column => column.Key))
            collected.Add(column.Key, column.Sum(term => term.Factor));
        return collected;
    }
}
