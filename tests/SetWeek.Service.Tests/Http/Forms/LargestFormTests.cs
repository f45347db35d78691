using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Pages.Nights.PaintNight;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Http.Forms;

[Collection(ServiceCollection.Name)]
public sealed class LargestFormTests(RunningService service)
{
    /// <summary>All stints of the largest week may be planned in one night, and a clean-down of each of its zones.</summary>
    [Fact]
    public async Task The_record_of_a_night_is_read_with_all_pieces_of_the_largest_week()
    {
        var (chain, week, paint, _) = await OpenedWith(service, FirstRain.Direction);
        using var lead = await SignedIn(chain, "lena", Role.Lead);
        week.Clock.MoveTo("2027-03-09T00:20");
        var form = PageForm.With(await Page(lead, $"{Address}/nights/monday/sheet?view=record"), "Record these times");
        var sent = form.Names.Where(name => name.StartsWith(':'))
            .SelectMany(form.SentIn, (name, value) => KeyValuePair.Create(name, value)).ToList();
        for (var row = 0; row < 2 * (WeekLimits.TotalStints + WeekLimits.Zones); row++)
            sent.AddRange(RowOf(row, row switch { 0 => "20:40", 1 => "21:45", _ => "" }));
        var answer = await lead.PostForm(form.Address, sent);
        Assert.True(answer.Status == 303, $"{answer.Status}: {answer.Text}");
        Assert.Equal("done", (string?)(await Piece(week, paint))["report"]!["state"]);
    }

    private static IEnumerable<KeyValuePair<string, string>> RowOf(int row, string at) =>
    [
        new($"reports[{row}].kind", row % 2 == 0 ? "started" : "finished"), new($"reports[{row}].id", $"report-{row:0000}-of-the-night-of-monday"),
        new($"reports[{row}].night", "monday"), new($"reports[{row}].task", "wall.paint"), new($"reports[{row}].stint:number", "1"),
        new($"reports[{row}].at:row", at),
    ];
}
