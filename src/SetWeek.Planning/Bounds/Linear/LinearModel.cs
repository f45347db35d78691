namespace SetWeek.Planning.Bounds.Linear;

/// <summary>A linear relaxation as rows over whole-numbered columns, whatever solves it.</summary>
internal sealed class LinearModel
{
    private readonly List<(long Least, long Most, int? Night)> columns = [];
    private readonly List<(LinearExpression Sum, long Least, long Most)> rows = [];

    /// <summary>Night: the one that a column says something about; null where it is the week's.</summary>
    public IReadOnlyList<(long Least, long Most, int? Night)> Columns => columns;
    public IReadOnlyList<(LinearExpression Sum, long Least, long Most)> Rows => rows;

    public LinearExpression NewBinary(int? night = null) => NewColumn(0, 1, night);

    public LinearExpression NewColumn(long lower, long upper, int? night = null)
    {
        if (lower == upper) return new LinearExpression().Add(lower);
        columns.Add((lower, upper, night));
        return new LinearExpression().Add(columns.Count - 1, 1);
    }

    /// <summary>The night that all columns of a sum are of; null where they are of several, or the week's.</summary>
    public int? NightOf(LinearExpression sum)
    {
        if (sum.Terms.Count == 0) return null;
        var night = columns[sum.Terms[0].Column].Night;
        foreach (var (column, _) in sum.Terms) if (columns[column].Night != night) return null;
        return night;
    }

    /// <summary>Sum is at most zero.</summary>
    public void AddAtMostZero(LinearExpression sum) => AddRow(sum, long.MinValue / 4, 0);

    public void AddEqualsZero(LinearExpression sum) => AddRow(sum, 0, 0);

    private void AddRow(LinearExpression sum, long lower, long upper)
    {
        var row = sum.CollectTerms();
        // A row over constants only is kept too: where it fails, the relaxation has no solution, and nor has the week.
        rows.Add((row, lower <= long.MinValue / 4 ? lower : lower - row.Constant, upper - row.Constant));
    }
}

/// <summary>A linear sum over columns, with a constant.</summary>
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

    /// <summary>Each column once, in order.</summary>
    public LinearExpression CollectTerms()
    {
        var gathered = new LinearExpression().Add(Constant);
        foreach (var column in terms.GroupBy(term => term.Column).OrderBy(column => column.Key))
            gathered.Add(column.Key, column.Sum(term => term.Factor));
        return gathered;
    }
}
