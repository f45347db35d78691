using SetWeek.Domain.Nights;
using SetWeek.Service.Printing.Sheets;
using static SetWeek.Service.Tests.Printing.PaperWeek;

namespace SetWeek.Service.Tests.Printing.Sheets;

/// <summary>The sheets of the painter and the dressers.</summary>
public sealed class PainterAndDresserTests
{
    /// <summary>Whoever dresses or poses has a sheet; painting and dressing can be narrowed to one person.</summary>
    [Fact]
    public void A_sheet_of_a_person_has_the_work_of_that_person_alone()
    {
        var facts = DemoNight("night-2");
        var dressers = DemoPlan.Nights[1].Work.Where(work => Demo.Tasks.Any(task => task.Id == work.Task
            && task.Modes.Any(mode => mode.Roles.Any(role => role.Skill is "dressing" or "posing"))))
            .SelectMany(work => work.People).Select(person => person.Person).Distinct().ToList();
        Assert.NotEmpty(dressers);
        Assert.Equal(dressers.Count, Print(facts, "dresser").Count);
        var jonah = new SheetPerson("jonah", "Jonah Brask");
        Assert.All(Assert.Single(Print(facts, "painter", jonah)).Blocks.OfType<PieceBlock>(), piece =>
            Assert.DoesNotContain("Jonah", piece.Where));
        Assert.Contains("No paint work", TextOf(Assert.Single(Print(facts, "painter", new SheetPerson("pip", "Pip Arden")))));
        Assert.Contains("You have no shift", TextOf(Assert.Single(Print(facts, "crew", new SheetPerson("teo", "Teo Marlowe")))));
    }

    [Fact]
    public void Painter_and_dresser_read_how_their_displays_are_to_look()
    {
        var wall = Demo.Nights.Select(night => TextOf(Print(DemoNight(night.Id), "painter")[0]))
            .Where(text => text.Contains("first coat")).ToList();
        Assert.NotEmpty(wall);
        Assert.All(wall, text => Assert.Contains("A slate-blue wall with thin plumb lines of rain", text));
        var figures = Demo.Nights.SelectMany(night => Print(DemoNight(night.Id), "dresser")).Select(TextOf)
            .Where(text => text.Contains("Pose the four figures")).ToList();
        Assert.NotEmpty(figures);
        Assert.All(figures, text => Assert.Contains("four figures, each on its own step, with its line to the wall", text));
        Assert.All(figures, text => Assert.DoesNotContain("A slate-blue wall", text));
    }

    [Fact]
    public void Colours_figures_and_cartons_stand_where_they_are_needed()
    {
        var painter = Demo.Nights.SelectMany(night => Print(DemoNight(night.Id), "painter")[0].Blocks.OfType<TableBlock>().Take(1))
            .SelectMany(table => table.Rows)
            .Where(row => row.Cells[2].StartsWith("Cut in and roll the first coat", StringComparison.Ordinal));
        Assert.All(painter, row => Assert.Equal("Slate blue, matt", row.Cells[5]));
        Assert.NotEmpty(painter);
        var posed = Demo.Nights.SelectMany(night => Print(DemoNight(night.Id), "dresser"))
            .Where(sheet => TextOf(sheet).Contains("Pose the four figures"))
            .Select(sheet => sheet.Blocks.OfType<TableBlock>().Last()).ToList();
        Assert.NotEmpty(posed);
        var four = DemoDirection.Displays.Single(display => display.Id == "stepped-shelf").Figures;
        Assert.Equal(4, four.Count);
        Assert.All(posed, table => Assert.All(four, figure => Assert.Contains(table.Rows, row =>
            row.Cells[1] == figure.Name && row.Cells[3] == figure.Pose)));
        var hung = Demo.Nights.SelectMany(night => Print(DemoNight(night.Id), "crew")).Select(TextOf);
        Assert.Contains(hung, text => text.Contains("waist line × 2 from P4, P5 of ", StringComparison.Ordinal));
    }
}
