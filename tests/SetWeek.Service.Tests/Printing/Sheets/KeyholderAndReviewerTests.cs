using SetWeek.Domain.Checks;
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
        Assert.Equal(StandardChecks.All.Closing.Concat(StandardChecks.All.LockUp).Select(check => check.Sentence),
            keyholder.Blocks.OfType<ListBlock>().Single().Items);
        var reviewer = TextOf(Print(facts, "reviewer")[0]);
        Assert.All(facts.Sheet.Pieces.SelectMany(piece => piece.Checks), check => Assert.Contains(check, reviewer));
        Assert.All(facts.Sheet.Pieces, piece => Assert.Contains(piece.ZoneName, reviewer));
        Assert.All(StandardChecks.All.WalkThrough, check => Assert.Contains(check.Sentence, reviewer));
    }

    /// <summary>Nothing is stored of telephones, and nothing of the alarm.</summary>
    [Fact]
    public void Telephones_and_the_times_of_the_alarm_are_written_in_by_hand()
    {
        static IReadOnlyList<string> blanks(string kind) =>
            Print(DemoNight("night-1"), kind)[0].Blocks.OfType<BlanksBlock>().Single().Labels;
        Assert.Equal(["Telephone of security", "Telephone of head office", "Telephone of first aid"], blanks("lead"));
        Assert.Superset(new HashSet<string> { "Telephone of security", "Alarm arms by itself at", "Alarm set at", "Second keyholder" },
            blanks("keyholder").ToHashSet());
    }
}
