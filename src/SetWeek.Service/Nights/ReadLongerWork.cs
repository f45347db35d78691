using System.Globalization;
using Marten;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Nights.Pieces;
using SetWeek.Service.Pages.Nights.Pieces.Acts;

namespace SetWeek.Service.Nights;

public sealed class ReadLongerWork : IQuery
{
    private const int DefaultMinutes = 30, MostMinutes = 240;

    public static Operation Operation => new("GET", "/weeks/{id}/nights/{night}/pieces/{number}/longer", "readLongerWork",
        "Reads what follows if a piece takes longer: what moves, who would have to stay, and whether the night still holds")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Query = [new("minutes", $"How much longer, 1 to {MostMinutes} minutes; without it, {DefaultMinutes}", "30", typeof(int))],
        Replies =
        [
            new(200, "What moves; nothing changes by reading it", typeof(LongerWork)) { HasETag = true },
            Reply.Page("The same as a page, with the form that reports it (Accept: text/html)"),
        ],
        Refusals = [400, 409],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if ((await LoadedNight.Of(request, session)).TryPickT1(out var refusal, out var night)) return refusal;
        if (ReadPiece.PieceOf(night.Sheet, request["number"]) is not { } piece)
            return Refused.Missing("piece", request["number"]);
        var asked = request.Query("minutes") ?? $"{DefaultMinutes}";
        if (!int.TryParse(asked, NumberStyles.None, CultureInfo.InvariantCulture, out var minutes)
            || minutes is < 1 or > MostMinutes)
            return Refused.With(400, $"The minutes must be a whole number from 1 to {MostMinutes}.", "no-minutes");
        if (piece.Report?.State == ReportedState.Done)
            return Refused.With(409, $"“{piece.Name}” is done already.", "done-already");
        var longer = await Admission.OnOwnThread(() => LongerWork.Of(night.Week, night.Crew, night.Sheet, piece, minutes));
        return (request.WantsPage
            ? await request.Page<PieceLongerPage, PieceLongerPage.Content>(
                new(new PieceView(await night.View(request, session), piece), longer))
            : Answer.Ok(longer)).WithVersion(night.Stream.Version);
    }
}
