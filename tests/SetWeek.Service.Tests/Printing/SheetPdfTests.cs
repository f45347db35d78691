using System.Globalization;
using System.Text;
using System.Xml.Linq;
using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Pages.Charts;
using SetWeek.Service.Printing.Drawing;
using SetWeek.Service.Printing.Faces;
using SetWeek.Service.Printing.Layout;
using SetWeek.Service.Printing.Sheets;
using static SetWeek.Service.Tests.Printing.PaperWeek;

namespace SetWeek.Service.Tests.Printing;

/// <summary>The files, read back by another program than the one that wrote them.</summary>
public sealed class SheetPdfTests
{
    public static TheoryData<string, string> Cases
    {
        get
        {
            var cases = new TheoryData<string, string>();
            foreach (var kind in SheetKind.All)
                foreach (var paper in PaperSize.All) cases.Add(kind.Id, paper.Id);
            return cases;
        }
    }

    /// <summary>Each night of the demo: the text of the file is that of the layout, side by side.</summary>
    [PopplerTheory]
    [MemberData(nameof(Cases))]
    public async Task The_file_has_the_sides_and_the_text_of_the_layout(string kind, string paper)
    {
        var size = PaperSize.All.Single(known => known.Id == paper);
        foreach (var night in Demo.Nights)
        {
            var sheets = Print(DemoNight(night.Id), kind);
            var sides = sheets.SelectMany(sheet => SheetLayout.Of(sheet, size)).ToList();
            var file = SheetPdf.Of("Sheet", Printed, sheets, size);
            var info = await Poppler.Info(file);
            Assert.Contains($"Pages:           {sides.Count}\n", info);
            Assert.Contains(paper == "a4" ? "595.276 x 841.89 pts (A4)" : "612 x 792 pts (letter)", info);
            var read = (await Poppler.Text(file, "-raw")).Split('\f');
            Assert.Equal(sides.Select(side => Letters(string.Concat(Texts(side).Select(mark => mark.Text)))),
                read.SkipLast(1).Select(Letters));
        }
    }

    [PopplerFact]
    public async Task Fonts_are_embedded_and_letters_can_be_searched()
    {
        var fonts = await Poppler.Fonts(SheetPdf.Of("Sheet", Printed, Print(DemoNight("night-2"), "lead"), PaperSize.A4));
        Assert.Equal(3, fonts.Count);
        Assert.All(fonts, font =>
            Assert.Matches("^[A-Z]{6}[+](Archivo Condensed|Literata).*CID TrueType +Identity-H +yes yes yes", font));
    }

    /// <summary>The widths that the layout reckons with are those of the embedded fonts: words end where it says.</summary>
    [PopplerFact]
    public async Task Words_are_as_wide_as_the_layout_says()
    {
        var sheet = new PaperSheet("Żaneta Wójcik’s sheet", ["First Rain"], [new TextBlock("Opens 18:30.", "Mmmmm iiiii WWWWW."),
            new HeadingBlock("Ελένη"), new ListBlock(ListMark.Number, ["Straightforward"])], ["Foot."]);
        var page = Assert.Single(SheetLayout.Of(sheet, PaperSize.A4));
        var boxes = XDocument.Parse(await Poppler.Text(SheetPdf.Of("Sheet", Printed, [sheet], PaperSize.A4), "-bbox"))
            .Descendants().Where(element => element.Name.LocalName == "word")
            .Select(word => (word.Value, Left: Millimetres(word, "xMin"), Right: Millimetres(word, "xMax"))).ToList();
        Assert.NotEmpty(boxes);
        foreach (var text in Texts(page))
        {
            var words = text.Text.Split(' ', StringSplitOptions.RemoveEmptyEntries);
            var lead = text.Text.StartsWith(' ') ? Typefaces.Width(" ", text.Face, text.Size) : 0;
            Assert.Contains(boxes, box => words[0].StartsWith(box.Value, StringComparison.Ordinal)
                && Math.Abs(box.Left - text.X - lead) < 0.1);
            Assert.Contains(boxes, box => words[^1].EndsWith(box.Value, StringComparison.Ordinal)
                && Math.Abs(box.Right - text.X - text.Width) < 0.1);
        }
    }

    /// <summary>A rendered side has ink, and none in its margins.</summary>
    [PopplerTheory]
    [MemberData(nameof(Cases))]
    public async Task A_rendered_side_has_white_margins(string kind, string paper)
    {
        var size = PaperSize.All.Single(known => known.Id == paper);
        var (width, height, pixels) = await Poppler.Picture(
            SheetPdf.Of("Sheet", Printed, Print(DemoNight("night-3"), kind), size));
        bool isDark(int x, int y) => pixels[y * width + x] < 160;
        var margin = (int)(8 / 25.4 * 50);
        var dark = Enumerable.Range(0, width * height).Select(index => (X: index % width, Y: index / width))
            .Where(at => isDark(at.X, at.Y)).ToList();
        Assert.InRange(dark.Count, 1000, width * height / 4);
        Assert.DoesNotContain(dark, at => at.X < margin || at.Y < margin || at.X >= width - margin || at.Y >= height - margin);
    }

    [Fact]
    public void The_same_sheets_and_time_give_the_same_bytes()
    {
        byte[] make(Instant made, string kind = "crew") =>
            SheetPdf.Of("Sheet", made, Print(DemoNight("night-2"), kind), PaperSize.A4);
        Assert.Equal(make(Printed), make(Printed));
        Assert.NotEqual(make(Printed), make(Printed + Duration.FromMinutes(1)));
        Assert.NotEqual(make(Printed), make(Printed, "lead"));
        Assert.Equal(WallPdf.Of("Week", Demo, DemoPlan, Printed), WallPdf.Of("Week", Demo, DemoPlan, Printed));
    }

    /// <summary>ISO 216: A3 is 297 by 420 mm, 841.89 by 1190.55 points.</summary>
    [PopplerFact]
    public async Task The_wall_chart_is_A3_and_has_the_text_of_the_drawing()
    {
        var file = WallPdf.Of("First Rain, Harbour Street", Demo, DemoPlan, Printed);
        var info = await Poppler.Info(file);
        Assert.Contains("Pages:           1\n", info);
        Assert.Contains("1190.55 x 841.89 pts (A3)", info);
        var drawn = Assert.Single(WallChart.Sides("First Rain, Harbour Street", Demo, DemoPlan)).Descendants()
            .Where(element => element.Name.LocalName == "text").Select(element => element.Value);
        Assert.Equal(Letters(string.Concat(drawn)), Letters(await Poppler.Text(file, "-raw")));
        Assert.All(await Poppler.Fonts(file), font => Assert.Matches("Archivo Condensed.*yes yes yes", font));
    }

    [PopplerFact]
    public async Task A_week_of_many_people_takes_several_sides_and_every_night_is_on_one()
    {
        var crowd = Enumerable.Range(1, 40).Select(number => new CrewMember
        {
            Id = $"c{number}", Name = $"Person {number}", RatePerHour = 1, Skills = new Dictionary<string, int>(),
        }).ToList();
        var week = Demo with { Crew = [.. Demo.Crew, .. crowd] };
        var plan = DemoPlan with
        {
            Nights = [.. DemoPlan.Nights.Select(night => night with
            {
                Shifts = [.. night.Shifts, .. crowd.Select(member =>
                    new PlannedShift(member.Id, night.Shifts[0].From, night.Shifts[0].To))],
            })],
        };
        var sides = WallChart.Sides("Week", week, plan);
        Assert.InRange(sides.Count, 3, 6);
        Assert.All(sides, side => Assert.Equal("0 0 420 297", side.Attribute("viewBox")!.Value));
        var file = WallPdf.Of("Week", week, plan, Printed);
        Assert.Contains($"Pages:           {sides.Count}\n", await Poppler.Info(file));
        var text = await Poppler.Text(file, "-raw");
        Assert.Equal(Demo.Nights.Count, text.Split("Person 40").Length - 1);
        Assert.Contains($"Week, side {sides.Count} of {sides.Count}", text);
    }

    [PopplerFact]
    public async Task A_name_on_the_wall_is_in_its_own_letters_or_squares_with_its_id()
    {
        var week = Demo with
        {
            Crew = [.. Demo.Crew.Select(member => member.Id switch
            {
                "idris" => member with { Name = "王小明" }, "noor" => member with { Name = "نور الخطيب" }, _ => member,
            })],
        };
        var text = await Poppler.Text(WallPdf.Of("Week", week, DemoPlan, Printed), "-layout");
        Assert.Contains("□□□ (idris), keys", text);
        Assert.Contains("نور الخطيب", InOrder(text));
    }

    /// <summary>Words in the order in which they are drawn, with their letters so too: poppler says where each is.</summary>
    [PopplerFact]
    public async Task Names_that_are_read_from_right_to_left_are_drawn_so()
    {
        var sheet = new PaperSheet("Sheet", ["Note"],
            [new TextBlock("Keys:", "דוד בן-לוי, home by 22:00; مريم الخطيب, and Ada.")], ["Foot."]);
        var file = SheetPdf.Of("Sheet", Printed, [sheet], PaperSize.A4);
        var drawn = XDocument.Parse(await Poppler.Text(file, "-bbox")).Descendants()
            .Where(element => element.Name.LocalName == "word").SkipWhile(word => word.Value != "Keys:")
            .Select(word => (word.Value, Left: Millimetres(word, "xMin"))).Take(10).ToList();
        Assert.Equal(drawn.OrderBy(word => word.Left), drawn);
        Assert.Equal(["Keys:", Reversed("בן-לוי"), Reversed("דוד") + ",", "home", "by", "22:00;", Reversed("الخطيب"),
            Reversed("مريم") + ",", "and", "Ada."], drawn.Select(word => InOrder(word.Value)));
        Assert.Contains("مريم الخطيب", InOrder(await Poppler.Text(file, "-layout")));
    }

    /// <summary>
    /// UAX #9: rule L4 mirrors brackets that are read from right to left. By rule N0 a pair has the direction of the letters
    /// within and before it; with a Latin letter within, or without a letter before it, that of the line.
    /// </summary>
    [PopplerTheory]
    [InlineData("א (ב) ג", "ג (ב) א")]
    [InlineData("דוד (בן) [לוי]", "[יול] (ןב) דוד")]
    [InlineData("א «ב» ג", "ג «ב» א")]
    [InlineData("Keys (דוד), Ada", "Keys (דוד), Ada", "דוד")]
    [InlineData("(א) ב", "(א) ב")]
    [InlineData("א (ב Ada) ג", "א (ב Ada) ג")]
    public async Task Brackets_among_letters_that_are_read_from_right_to_left_are_mirrored(
        string text, string drawn, string? reversed = null)
    {
        var sheet = new PaperSheet("Sheet", ["Note"], [new TextBlock("Said:", text)], ["Foot."]);
        var words = XDocument.Parse(await Poppler.Text(SheetPdf.Of("Sheet", Printed, [sheet], PaperSize.A4), "-bbox"))
            .Descendants().Where(element => element.Name.LocalName == "word").SkipWhile(word => word.Value != "Said:").Skip(1)
            .TakeWhile(word => word.Value != "Foot.").OrderBy(word => Millimetres(word, "xMin"));
        Assert.Equal(reversed is null ? drawn : drawn.Replace(reversed, Reversed(reversed)),
            string.Join(' ', words.Select(word => InOrder(word.Value))));
    }

    private static double Millimetres(XElement word, string edge) =>
        double.Parse(word.Attribute(edge)!.Value, CultureInfo.InvariantCulture) * Typefaces.Point;

    /// <summary>Without the forms of letters and the marks of direction.</summary>
    private static string InOrder(string text) => string.Concat(text.Normalize(NormalizationForm.FormKC)
        .Where(letter => char.GetUnicodeCategory(letter) != UnicodeCategory.Format));

    private static string Reversed(string text) => new([.. text.Reverse()]);

    private static string Letters(string text) => string.Concat(text.Where(letter => !char.IsWhiteSpace(letter)));
}
