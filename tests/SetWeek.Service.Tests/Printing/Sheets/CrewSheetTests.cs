using System.Globalization;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Work.Gates;
using SetWeek.Model.Weeks;
using SetWeek.Service.Printing.Sheets;
using static SetWeek.Service.Tests.Printing.PaperWeek;
using static SetWeek.Service.Tests.Printing.Sheets.SmallNight;

namespace SetWeek.Service.Tests.Printing.Sheets;

/// <summary>The sheet of a person.</summary>
public sealed class CrewSheetTests
{
    public static TheoryData<string> Nights => new(Demo.Nights.Select(night => night.Id));

    private static readonly string[] Usual = [.. UsualGates.Known.After.Select(gate => gate.Text)];

    [Theory]
    [MemberData(nameof(Nights))]
    public void Everybody_has_all_cautions_steps_and_checks_of_their_own_work(string night)
    {
        var planned = DemoPlan.Nights.Single(planned => planned.Night == night);
        var sheets = Print(DemoNight(night), "crew");
        Assert.Equal(planned.Shifts.Count, sheets.Count);
        foreach (var (shift, sheet) in planned.Shifts.OrderBy(shift => shift.From.ToInstant()).Zip(sheets))
        {
            Assert.StartsWith(Demo.Crew.Single(member => member.Id == shift.Person).Name, sheet.Title, StringComparison.Ordinal);
            var pieces = sheet.Blocks.OfType<PieceBlock>().ToList();
            var own = planned.Work.Where(work => work.People.Any(person => person.Person == shift.Person)).ToList();
            Assert.Equal(own.Count + (shift.Break is null ? 0 : 1), pieces.Count);
            var tasks = own.Select(work => Demo.Tasks.SingleOrDefault(task => task.Id == work.Task)).OfType<WeekTask>().ToList();
            Assert.Equal(tasks.SelectMany(task => task.Cautions).Order(), pieces.SelectMany(piece => piece.Cautions).Order());
            Assert.Equal(tasks.SelectMany(task => task.Steps).Order(), pieces.SelectMany(piece => piece.Steps).Order());
            // The usual checks of work of its kind come besides those of the task.
            Assert.Equal(tasks.SelectMany(task => task.Checks).Order(),
                pieces.SelectMany(piece => piece.Checks).Where(check => !Usual.Contains(check)).Order());
        }
    }

    /// <summary>
    /// Who works from paper reads there what must be so before a piece begins, and signs it: 29 CFR 1910.23(b)(9) wants a ladder
    /// looked at before its first use in a shift (from memory).
    /// </summary>
    [Fact]
    public void What_must_be_so_before_a_piece_begins_is_signed_on_paper()
    {
        var facts = DemoNight("night-2");
        var asked = facts.Sheet.Pieces.Where(piece => piece.Gates.Count > 0 && piece.People.Count > 0).ToList();
        Assert.NotEmpty(asked);
        foreach (var piece in asked)
        {
            var block = BlockOf(facts, piece);
            Assert.Equal(piece.Gates.Select(gate => gate.Text), block.Gates.Take(piece.Gates.Count));
            Assert.Equal("Signed", block.Blanks[0]);
        }
        var free = facts.Sheet.Pieces.First(piece => piece is { Gates.Count: 0, Showing: null, People.Count: > 0 });
        Assert.Empty(BlockOf(facts, free).Gates);
        Assert.Equal(["Began", "Ended"], BlockOf(facts, free).Blanks);

        var begun = DemoNight("night-2", new WorkStarted("r1", asked[0].Task!, asked[0].Stint!.Value, "night-2", asked[0].From));
        Assert.Empty(BlockOf(begun, asked[0]).Gates);
        Assert.Equal(["Ended"], BlockOf(begun, asked[0]).Blanks);
    }

    private static PieceBlock BlockOf(NightFacts facts, SheetPiece piece) =>
        Print(facts, "crew", piece.People[0])[0].Blocks.OfType<PieceBlock>()
            .Single(block => block.Title.StartsWith($"{piece.Number} ", StringComparison.Ordinal));

    [Fact]
    public void What_is_done_is_written_in_and_needs_no_steps_any_more()
    {
        var facts = DemoNight("night-2");
        var piece = facts.Sheet.Pieces.First(piece => piece.Cautions.Count > 0 && piece.People.Count > 0);
        var (from, to) = (piece.From.PlusMinutes(5), piece.To.PlusMinutes(-5));
        facts = DemoNight("night-2", new WorkStarted("r1", piece.Task!, piece.Stint!.Value, "night-2", from),
            new WorkFinished("r2", piece.Task!, piece.Stint!.Value, "night-2", to));
        var row = Print(facts, "lead")[0].Blocks.OfType<TableBlock>().First().Rows
            .Single(row => row.Cells[0] == piece.Number.ToString(CultureInfo.InvariantCulture));
        Assert.Equal((Clock(from), Clock(to), ""), (row.Cells[7], row.Cells[8], row.Cells[5]));
        var block = BlockOf(facts, piece);
        Assert.Empty(block.Steps);
        Assert.Empty(block.Blanks);
        Assert.Contains($"ended {Clock(to)}", block.Hints);
    }
}
