using SetWeek.Service.Printing.Sheets;
using static SetWeek.Service.Tests.Printing.PaperWeek;

namespace SetWeek.Service.Tests.Printing.Sheets;

/// <summary>The sheets of the keyholder and the reviewer.</summary>
public sealed class KeyholderAndReviewerTests
{
    public static TheoryData<string> Nights => new(Demo.Nights.Select(night => night.Id));

    [Theory]
    [MemberData(nameof(Nights))]
    public void The_keyholder_counts_everybody_and_the_reviewer_has_every_check(string night)
    {
        var facts = DemoNight(night);
        var keyholder = Print(facts, "keyholder")[0];
        Assert.Equal(facts.Sheet.Shifts.Select(shift => shift.Name), keyholder.Blocks.OfType<TableBlock>().Single().Rows
            .Select(row => row.Cells[0]).Where(name => name != "Visitor:"));
        Assert.Contains("No codes on paper.", TextOf(keyholder));
        var reviewer = TextOf(Print(facts, "reviewer")[0]);
        Assert.All(facts.Sheet.Pieces.SelectMany(piece => piece.Checks), check => Assert.Contains(check, reviewer));
        Assert.All(facts.Sheet.Pieces, piece => Assert.Contains(piece.ZoneName, reviewer));
    }
}
