namespace SetWeek.Planning.Bounds.Linear;

/// <summary>A linear relaxation as rows over whole-numbered columns, whatever solves it.</summary>
internal sealed class RowModel
{
    private readonly List<(long Least, long Most, int? Night)> columns = [];
    private readonly List<(Sum Sum, long Least, long Most)> rows = [];

    /// <summary>Night: the one that a column says something about; null where it is the week's.</summary>
    public IReadOnlyList<(long Least, long Most, int? Night)> Columns => columns;
    public IReadOnlyList<(Sum Sum, long Least, long Most)> Rows => rows;

    public Sum Flag(int? night = null) => Column(0, 1, night);

    public Sum Column(long least, long most, int? night = null)
    {
        if (least == most) return new Sum().And(least);
        columns.Add((least, most, night));
        return new Sum().And(columns.Count - 1, 1);
    }

    /// <summary>The night that all columns of a sum are of; null where they are of several, or the week's.</summary>
    public int? NightOf(Sum sum)
    {
        if (sum.Terms.Count == 0) return null;
        var night = columns[sum.Terms[0].Column].Night;
        foreach (var (column, _) in sum.Terms) if (columns[column].Night != night) return null;
        return night;
    }

    /// <summary>Sum is at most zero.</summary>
    public void NotPositive(Sum sum) => Between(sum, long.MinValue / 4, 0);

    public void Zero(Sum sum) => Between(sum, 0, 0);

    private void Between(Sum sum, long least, long most)
    {
        var row = sum.Gathered();
        // A row over constants only is kept too: where it fails, the relaxation has no solution, and nor has the week.
        rows.Add((row, least <= long.MinValue / 4 ? least : least - row.Constant, most - row.Constant));
    }
}

/// <summary>A linear sum over columns, with a constant.</summary>
internal sealed class Sum
{
    private readonly List<(int Column, long Factor)> terms = [];

    public long Constant { get; private set; }
    public IReadOnlyList<(int Column, long Factor)> Terms => terms;
    public bool IsZero => terms.Count == 0 && Constant == 0;

    public Sum And(long constant)
    {
        Constant += constant;
        return this;
    }

    public Sum And(int column, long factor)
    {
        if (factor != 0) terms.Add((column, factor));
        return this;
    }

    public Sum And(Sum other, long factor = 1)
    {
        if (factor == 0) return this;
        foreach (var (column, own) in other.terms) terms.Add((column, own * factor));
        Constant += other.Constant * factor;
        return this;
    }

    public static Sum Of(IEnumerable<Sum> sums)
    {
        var total = new Sum();
        foreach (var sum in sums) total.And(sum);
        return total;
    }

    /// <summary>Each column once, in order.</summary>
    public Sum Gathered()
    {
        var gathered = new Sum().And(Constant);
        foreach (var column in terms.GroupBy(term => term.Column).OrderBy(column => column.Key))
            gathered.And(column.Key, column.Sum(term => term.Factor));
        return gathered;
    }
}
