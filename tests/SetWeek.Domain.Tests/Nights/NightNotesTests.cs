using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Nights;

/// <summary>Monday of the example: Ben paints in two stints, Asha cleans down. NightSheetTests argue the latest starts.</summary>
public sealed class NightNotesTests
{
    private static readonly WorkKey First = new("feature-wall.paint", 1), Second = new("feature-wall.paint", 2),
        CleanDown = WorkKey.CleanDownOf("wall", "monday");

    private static readonly PlannedNight Monday = Worked.Nights[0];

    [Fact]
    public void Each_piece_has_its_number_its_latest_start_and_what_it_frees()
    {
        var notes = Of(Given(Published), null);
        Assert.Equal((101, At(22, 15), false), (notes.Pieces[First].Number, notes.Pieces[First].LatestStart!.Value,
            notes.Pieces[First].IsTight));
        Assert.Equal([102], notes.Pieces[First].Frees);
        Assert.Equal((103, At(23, 15)), (notes.Pieces[CleanDown].Number, notes.Pieces[CleanDown].LatestStart!.Value));
        Assert.DoesNotContain(notes.Pieces.Values, piece => piece.IsChanged);
        Assert.Empty(notes.ChangedShifts);
    }

    [Theory]
    [InlineData(23, 10, true)] // five minutes before its latest start
    [InlineData(23, 5, false)]
    public void A_piece_with_five_minutes_in_hand_is_tight(int hour, int minute, bool isTight)
    {
        var late = Worked with
        {
            Nights = [Monday with { Work = [.. Monday.Work.Select(work => work.CleanDown is null ? work
                : work with { From = At(hour, minute), To = At(hour, minute).PlusMinutes(15) })] }],
        };
        var week = Given(Published with { Plan = late });
        Assert.Equal(isTight, NightNotes.Of(week, late.Nights[0], NightMargins.Of(week, Crew, "monday"), null)
            .Pieces[CleanDown].IsTight);
    }

    [Fact]
    public void Without_margins_the_numbers_stay_and_nothing_is_said_of_latest_starts()
    {
        var notes = NightNotes.Of(Given(Published), Monday, null, null);
        Assert.False(notes.HasMargins);
        Assert.Equal([101, 102, 103], notes.Pieces.Values.Select(piece => piece.Number!.Value).Order());
        Assert.All(notes.Pieces.Values, piece => Assert.True(piece is { LatestStart: null, IsTight: false, Frees.Count: 0 }));
    }

    [Fact]
    public void Begun_work_has_no_latest_start() => Assert.Null(
        Of(Given(Published, new WorkStarted("r1", "feature-wall.paint", 1, "monday", At(21, 50))), null).Pieces[First].LatestStart);

    /// <summary>The issue before had the first stint earlier, Asha on the second, and no shift of Ben's.</summary>
    [Fact]
    public void Another_time_other_people_and_another_shift_are_changes()
    {
        var before = Worked with
        {
            Nights = [Monday with
            {
                Shifts = [Monday.Shifts[0]],
                Work =
                [
                    Monday.Work[0] with { From = At(21, 40), To = At(22, 10) },
                    Monday.Work[1] with { People = [new PlannedPerson("p1", "painting")] }, Monday.Work[2],
                ],
            }],
        };
        var notes = Of(Given(Published), before);
        Assert.Equal([true, true, false], new[] { First, Second, CleanDown }.Select(piece => notes.Pieces[piece].IsChanged));
        Assert.Equal(["p2"], notes.ChangedShifts);
    }

    [Fact]
    public void All_of_a_night_that_the_issue_before_did_not_have_is_new() =>
        Assert.All(Of(Given(Published), Worked with { Nights = [] }).Pieces.Values, piece => Assert.True(piece.IsChanged));

    private static NightNotes Of(StoreWeek week, Plan? before) =>
        NightNotes.Of(week, Monday, NightMargins.Of(week, Crew, "monday"), before);
}
