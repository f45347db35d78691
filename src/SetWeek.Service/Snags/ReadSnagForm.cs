using System.Globalization;
using Marten;
using NodaTime;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Snags;
using SetWeek.Service.Storage;
using SetWeek.Service.Words;

namespace SetWeek.Service.Snags;

/// <summary>The page on which a snag is raised. Other pages lead to it with the place, and with the page to go back to.</summary>
public sealed class ReadSnagForm : IQuery
{
    private const int DaysUntilLater = 7;

    public static Operation Operation => new("GET", "/weeks/{id}/snags/new", "readSnagForm", "The page on which a snag is raised")
    {
        MayUse = RaiseSnag.Operation.MayUse,
        Query =
        [
            new("zone", "The zone that is chosen at first", "window"),
            new("display", "The display on which the snag is", "canopy"),
            new("piece", "The number of the piece on which the snag is", "101", typeof(int)),
            new("then", "A page of the week to show next; without it, the snag", "/weeks/first-rain.harbour-street/tonight"),
        ],
        Replies = [Reply.Page("The form")],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        return await request.Page<SnagFormPage, SnagFormPage.Content>(
            new(await session.SnagWeekOf(week, request), request.FormToken(), request.NewIds(2),
                [.. week.Week.Store.Zones.Select(zone => (zone.Id, zone.Name))], await session.PeopleOf(week, request),
                DaysOf(week, request.Now))
            {
                Zone = request.Query("zone"),
                Display = week.Week.Displays.Where(display => display.Id == request.Query("display"))
                    .Select(display => ((string, string)?)(display.Id, display.Name)).FirstOrDefault(),
                Piece = PieceOf(week, request.Query("piece")),
                Then = request.Query("then") is { } then && then.StartsWith($"/weeks/{week.Id}/", StringComparison.Ordinal)
                    ? then : null,
            });
    }

    private static (int, string)? PieceOf(StoreWeek week, string? text) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            && week.Published?.Pieces.Pieces.FirstOrDefault(piece => piece.Number == number) is { } piece
            ? (number, $"{(piece.Task is { } task ? new WeekLabels(week.Week).TaskName(task) : "Clean-down")}, {number}") : null;

    /// <summary>Tonight, the day of the launch, and a week after it. A day is offered once.</summary>
    private static IReadOnlyList<(LocalDate, string, bool)> DaysOf(StoreWeek week, Instant now)
    {
        var night = Tonight.NightOf(week, now) is { } id ? week.Week.Nights.FirstOrDefault(night => night.Id == id) : null;
        var tonight = night?.Opens.Date ?? now.InZone(StoreTime.ZoneOf(week)).Date;
        var launch = week.Week.Launch.Date;
        (LocalDate Day, string Words)[] choices =
            [(tonight, "Tonight"), (launch, "Before the doors open"), (launch.PlusDays(DaysUntilLater), "Later")];
        return [.. choices.DistinctBy(choice => choice.Day)
            .Select((choice, index) => (choice.Day, $"{choice.Words}, {SnagWords.Day(choice.Day)}", index == 0))];
    }
}
