using System.Text;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Printing.Faces;
using SetWeek.Service.Printing.Layout;
using SetWeek.Service.Printing.Sheets;
using static SetWeek.Service.Tests.Printing.PaperWeek;

namespace SetWeek.Service.Tests.Printing;

/// <summary>Where things stand on paper, without a PDF: nothing is outside the margins or over something else.</summary>
public sealed class SheetLayoutTests
{
    private const double Margin = 9;

    public static TheoryData<string, string> NightsOnPaper
    {
        get
        {
            var cases = new TheoryData<string, string>();
            foreach (var night in Demo.Nights)
                foreach (var paper in PaperSize.All) cases.Add(night.Id, paper.Id);
            return cases;
        }
    }

    [Theory]
    [MemberData(nameof(NightsOnPaper))]
    public void All_sheets_of_the_demo_are_within_the_margins_and_nothing_overlaps(string night, string paper)
    {
        foreach (var page in Pages(DemoNight(night), paper)) AssertReadable(page);
    }

    /// <summary>
    /// The demo's nights have up to 9 people and 28 pieces, of which some people have nine or ten. No kit is counted in them, so that
    /// the receiver has every line of up to four kits.
    /// </summary>
    [Theory]
    [MemberData(nameof(NightsOnPaper))]
    public void Lead_painter_keyholder_and_reviewer_have_one_side(string night, string paper)
    {
        var sides = SheetKind.All.SelectMany(kind => kind.Print(DemoNight(night), null)
            .Select(sheet => (kind.Id, sheet.Title, Sides: SheetLayout.Of(sheet, SizeOf(paper)).Count))).ToList();
        Assert.All(sides, sheet => Assert.InRange(sheet.Sides, 1,
            sheet.Id switch { "crew" => 3, "dresser" or "receiver" => 2, _ => 1 }));
    }

    /// <summary>Nights as large as one side has to hold: nine people and thirty stints.</summary>
    [Theory]
    [MemberData(nameof(NightsOnPaper))]
    public void Every_sheet_of_a_night_of_9_people_and_30_stints_is_one_side(string night, string paper)
    {
        var facts = LargeNight(night);
        Assert.Equal((9, 30), (facts.Sheet.Shifts.Count, facts.Sheet.Pieces.Count));
        foreach (var kind in SheetKind.All)
            foreach (var sheet in kind.Print(facts, null))
            {
                var sides = SheetLayout.Of(sheet, SizeOf(paper));
                Assert.True(sides.Count == 1, $"{kind.Id}, {sheet.Title}: {sides.Count} sides");
                AssertReadable(sides[0]);
            }
    }

    /// <summary>11 points or larger can be read at arm's length by night (common practice, no source).</summary>
    [Theory]
    [InlineData("night-5", "a4"), InlineData("night-5", "letter"), InlineData("night-6", "a4"), InlineData("night-6", "letter")]
    public void In_a_night_of_ten_to_thirteen_pieces_a_sheet_with_up_to_five_of_them_has_11_points(string night, string paper)
    {
        var sheets = SheetKind.All.SelectMany(kind => kind.Print(DemoNight(night), null))
            .Where(sheet => sheet.Blocks.OfType<PieceBlock>().Count() <= 5).ToList();
        Assert.InRange(sheets.Count, 8, 12);
        Assert.All(sheets, sheet => Assert.True(IsFull(SheetLayout.Of(sheet, SizeOf(paper))), sheet.Title));
    }

    [Theory]
    [MemberData(nameof(NightsOnPaper))]
    public void A_sheet_of_several_sides_has_11_points_and_so_has_the_keyholders(string night, string paper)
    {
        var sheets = SheetKind.All.SelectMany(kind => kind.Print(DemoNight(night), null)
            .Select(sheet => (kind.Id, Sides: SheetLayout.Of(sheet, SizeOf(paper)))));
        Assert.All(sheets.Where(sheet => sheet.Sides.Count > 1 || sheet.Id == "keyholder"),
            sheet => Assert.True(IsFull(sheet.Sides), sheet.Id));
    }

    /// <summary>Of the 39 sheets of a person, those with the longest lists of steps and cautions go on overleaf.</summary>
    [Fact]
    public void Most_people_have_one_side()
    {
        var sheets = Demo.Nights.SelectMany(night => Print(DemoNight(night.Id), "crew")).ToList();
        Assert.Equal(39, sheets.Count);
        Assert.InRange(sheets.Count(sheet => SheetLayout.Of(sheet, PaperSize.A4).Count == 1), 30, 39);
    }

    [Theory]
    [InlineData("a4"), InlineData("letter")]
    public void A_sheet_of_60_people_with_long_names_goes_on_with_its_heading(string paper)
    {
        var facts = Crowd(number => $"Maximiliana-Theodora {number} von und zu Hohenlohe-Waldenburg-Schillingsfürst");
        var sides = SheetLayout.Of(Print(facts, "lead")[0], SizeOf(paper));
        Assert.InRange(sides.Count, 2, 9);
        Assert.All(sides, AssertReadable);
        Assert.All(sides.Index().Skip(1), side => Assert.Contains($"Sunday 7 March, side {side.Index + 1}", TextOf(side.Item)));
        Assert.All(sides.Index(), side => Assert.Contains($"Side {side.Index + 1} of {sides.Count}", TextOf(side.Item)));
        var all = string.Concat(sides.Select(TextOf));
        Assert.All(Enumerable.Range(1, 60), number => Assert.Contains($"Maximiliana-Theodora {number} von", all));
        // The head of a table is on each side that the table goes on to.
        Assert.All(sides.Skip(1).Select(TextOf).Where(text => text.Contains("Maximiliana", StringComparison.Ordinal)),
            text => Assert.Contains("Can do", text));
    }

    /// <summary>Han letters are squares with the id beside them; other letters are themselves.</summary>
    [Fact]
    public void No_name_vanishes()
    {
        string[] names = ["مريم الخطيب", "דוד לוי", "王小明", "Ελένη Παππά", "Żaneta Wójcik", "Оксана Шевченко",
            "Jose\u0301\u200f Ñandú"];
        var facts = Crowd(number => names[number % names.Length]);
        var sheet = Print(facts, "keyholder")[0];
        Assert.Contains("□ stands for a character", PaperWeek.TextOf(sheet));
        var sides = SheetLayout.Of(sheet, PaperSize.A4);
        Assert.All(sides, AssertReadable);
        // Arabic letters stand in the forms in which they join: as text they are the same (Unicode, normalization form KC).
        var text = string.Concat(sides.Select(TextOf)).Normalize(NormalizationForm.FormKC);
        Assert.Contains("□□□ (c2)", text);
        Assert.All(["مريم الخطيب", "דוד לוי", "Ελένη Παππά", "Żaneta Wójcik", "Оксана Шевченко", "José Ñandú"],
            name => Assert.Contains(name, text));
        var demo = SheetLayout.Of(Print(DemoNight("night-1"), "lead")[0], PaperSize.A4);
        Assert.DoesNotContain("□", string.Concat(demo.Select(TextOf)));
    }

    [Fact]
    public void A_word_wider_than_its_column_is_broken_and_nothing_of_it_is_lost()
    {
        var word = string.Concat(Enumerable.Repeat("Donaudampfschiff", 8));
        var lines = TextFlow.Lines([($"to {word} there", Face.Text)], 40, 11);
        Assert.Equal($"to{word}there", string.Concat(lines.SelectMany(line => line).Select(run => run.Text)).Replace(" ", ""));
        Assert.All(lines, line => Assert.True(line.Sum(run => Typefaces.Width(run.Text, run.Face, 11)) <= 40.001));
        Assert.Empty(TextFlow.Lines([("  ", Face.Text)], 40, 11));
        Assert.Equal(["19:15–", "20:30"], TextFlow.Lines([("19:15–20:30", Face.Text)], 10, 11).Select(line => line[0].Text));
    }

    /// <summary>A piece with more steps than a side holds goes on, and each step is printed once.</summary>
    [Fact]
    public void A_piece_longer_than_a_side_goes_on()
    {
        var steps = Enumerable.Range(1, 95).Select(number => $"Step {number} is said in words that fill its line, and then "
            + "in as many words again, so that it takes another line.").ToList();
        var sheet = new PaperSheet("Long", ["Note"], [new PieceBlock("19:00", ["to 20:00"], "101 Long work", "Floor, alone.",
            ["Mind."], steps, ["Look."], ["Began", "Ended"])], ["Foot."]);
        var sides = SheetLayout.Of(sheet, PaperSize.A4);
        Assert.InRange(sides.Count, 2, 6);
        Assert.All(sides, AssertReadable);
        var text = string.Concat(sides.Select(TextOf));
        Assert.All(steps, step => Assert.Contains(step, text));
    }

    private static PaperSize SizeOf(string paper) => PaperSize.All.Single(size => size.Id == paper);

    private static IEnumerable<PaperPage> Pages(NightFacts facts, string paper) =>
        SheetKind.All.SelectMany(kind => kind.Print(facts, null)).SelectMany(sheet => SheetLayout.Of(sheet, SizeOf(paper)));

    /// <summary>The demo's first night with sixty people more, who are on shift and have no work.</summary>
    private static NightFacts Crowd(Func<int, string> name)
    {
        var crowd = Enumerable.Range(1, 60).Select(number => new CrewMember
        {
            Id = $"c{number}", Name = name(number), RatePerHour = 1300, Skills = new Dictionary<string, int> { ["stock"] = 1 },
            Available = [new("night-1")],
        }).ToList();
        var night = DemoPlan.Nights[0];
        return NightOf(Demo with { Crew = [.. Demo.Crew, .. crowd] }, DemoPlan with
        {
            Nights = [night with
            {
                Shifts = [.. night.Shifts, .. crowd.Select(member =>
                    new PlannedShift(member.Id, night.Shifts[0].From, night.Shifts[0].To))],
            }, .. DemoPlan.Nights.Skip(1)],
        }, "night-1");
    }

    /// <summary>Whether its paragraphs and tables have 11 points.</summary>
    private static bool IsFull(IEnumerable<PaperPage> sides) =>
        sides.SelectMany(Texts).Any(text => text.Face is Face.Text or Face.TextBold && Math.Abs(text.Size - 11) < 0.001);

    /// <summary>Text has 9 points at the least, is in the margins, and over no other text and no line that stands upright.</summary>
    private static void AssertReadable(PaperPage page)
    {
        Assert.All(Texts(page), text => Assert.True(text.Size >= 9, $"{text.Text} has {text.Size} points."));
        var boxes = Texts(page).Select(text => (text.Text, Left: text.X, Right: text.X + text.Width,
            Top: text.Y - 0.72 * text.Size * Typefaces.Point, Bottom: text.Y + 0.2 * text.Size * Typefaces.Point)).ToList();
        Assert.All(boxes, box => Assert.True(box.Left >= Margin && box.Right <= page.Width - Margin && box.Top >= Margin - 1
            && box.Bottom <= page.Height - Margin + 1, $"{box.Text} is outside the margins: {box}"));
        var inOrder = boxes.OrderBy(box => box.Top).ToList();
        for (var first = 0; first < inOrder.Count; first++)
            for (var second = first + 1; second < inOrder.Count && inOrder[second].Top < inOrder[first].Bottom - 0.05; second++)
                Assert.True(inOrder[second].Left >= inOrder[first].Right - 0.05
                    || inOrder[first].Left >= inOrder[second].Right - 0.05,
                    $"{inOrder[first]} and {inOrder[second]} overlap.");
        foreach (var line in page.Marks.OfType<LineMark>().Where(line => line.FromX == line.ToX))
            Assert.DoesNotContain(boxes, box => box.Left < line.FromX - line.Thickness / 2
                && line.FromX + line.Thickness / 2 < box.Right
                && box.Top < Math.Max(line.FromY, line.ToY) && Math.Min(line.FromY, line.ToY) < box.Bottom);
    }

    /// <summary>Lines with a space between them; runs of one line without.</summary>
    private static string TextOf(PaperPage page)
    {
        var (text, y) = (new StringBuilder(), double.NaN);
        foreach (var mark in Texts(page))
        {
            if (mark.Y != y) text.Append(' ');
            text.Append(mark.Text);
            y = mark.Y;
        }
        return text.ToString();
    }
}
