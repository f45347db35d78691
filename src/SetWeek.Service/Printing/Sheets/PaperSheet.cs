namespace SetWeek.Service.Printing.Sheets;

/// <summary>What is printed for one person or one role, in order. It says nothing of places or sizes.</summary>
/// <param name="Notes">Beside the title: the week and the issue of its plan.</param>
/// <param name="Foot">Printed at the foot of every side.</param>
public sealed record PaperSheet(
    string Title, IReadOnlyList<string> Notes, IReadOnlyList<PaperBlock> Blocks, IReadOnlyList<string> Foot);

/// <summary>A part of a sheet.</summary>
public abstract record PaperBlock;

public sealed record HeadingBlock(string Text) : PaperBlock;

/// <summary>A paragraph.</summary>
/// <param name="Strong">Its beginning, printed bold; may be empty.</param>
public sealed record TextBlock(string Strong, string Text) : PaperBlock;

/// <summary>What to mind, with a thick bar beside it.</summary>
public sealed record CautionBlock(IReadOnlyList<string> Items) : PaperBlock;

/// <summary>How the items of a list are marked.</summary>
public enum ListMark { None, Number, Box }

/// <param name="Columns">In how many columns the items stand, one column after the other.</param>
public sealed record ListBlock(ListMark Mark, IReadOnlyList<string> Items, int Columns = 1) : PaperBlock;

public sealed record TableBlock(IReadOnlyList<PaperColumn> Columns, IReadOnlyList<PaperRow> Rows) : PaperBlock;

/// <summary>What a column of a table is for.</summary>
public enum ColumnUse { Text, Strong, Blank, Box }

/// <param name="Width">In millimetres; 0: an equal share of what the others leave.</param>
public sealed record PaperColumn(string Head, double Width, ColumnUse Use = ColumnUse.Text);

/// <param name="Cells">One for each column; an empty one of a blank column is left to be written in.</param>
/// <param name="IsTall">Whether it leaves room for handwriting.</param>
public sealed record PaperRow(IReadOnlyList<string> Cells, bool IsTall = false);

/// <summary>A piece of work: its time hangs at the left, and at the right stands what to look for and to write down.</summary>
/// <param name="Hints">Under the time.</param>
/// <param name="Where">The place, the partners, the tools and the pieces.</param>
/// <param name="Blanks">What is written down.</param>
public sealed record PieceBlock(
    string Time, IReadOnlyList<string> Hints, string Title, string Where, IReadOnlyList<string> Cautions,
    IReadOnlyList<string> Steps, IReadOnlyList<string> Checks, IReadOnlyList<string> Blanks) : PaperBlock
{
    /// <summary>What must be so before it begins, each with a box.</summary>
    public IReadOnlyList<string> Gates { get; init; } = [];
}

/// <summary>Labels with lines to write on.</summary>
public sealed record BlanksBlock(IReadOnlyList<string> Labels, int Columns = 1) : PaperBlock;

/// <summary>Two halves side by side.</summary>
public sealed record HalvesBlock(IReadOnlyList<PaperBlock> Left, IReadOnlyList<PaperBlock> Right) : PaperBlock;
