using Marten;
using SetWeek.Domain.Nights;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Nights.Pieces;
using SetWeek.Service.Pages.Nights.Pieces.Acts;

namespace SetWeek.Service.Nights;

public sealed class ReadPiece : IQuery
{
    /// <summary>A phone keeps the form of each, whether it is offered already or not (docs/decisions/offline.md).</summary>
    public static IReadOnlyList<string> Acts { get; } =
        ["start", "finish", "progress", "paused", "resumed", "blocked", "reopened", "not-safe"];

    public static Operation Operation => new("GET", "/weeks/{id}/nights/{night}/pieces/{number}", "readPiece",
        "Reads one piece of a night: its gates, steps and checks, and what is reported of it; as a page, the form of an act")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Query = [new("act", $"The act whose form the page shows: {string.Join(", ", Acts)}", "finish")],
        Replies =
        [
            new(200, "The piece, as on the sheet of the night", typeof(SheetPiece)) { HasETag = true },
            Reply.Page("The piece, with the form of the act (Accept: text/html)"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if ((await LoadedNight.Of(request, session)).TryPickT1(out var refusal, out var night)) return refusal;
        if (PieceOf(night.Sheet, request["number"]) is not { } piece) return Refused.Missing("piece", request["number"]);
        if (!request.WantsPage) return Answer.Ok(piece).WithVersion(night.Stream.Version);
        var view = new PieceView(await night.View(request, session), piece);
        return (await (!view.MayAct ? request.Page<PiecePage, PieceView>(view) : request.Query("act") switch
        {
            "finish" when !view.IsDone || piece.UnsignedChecks().Count > 0 =>
                request.Page<PieceFinishPage, PieceView>(view),
            "start" when view.Night.StopOf(piece) is null => request.Page<PieceStartPage, PieceView>(view),
            "progress" when !view.IsCleanDown => request.Page<PieceProgressPage, PieceView>(view),
            "paused" when !view.IsCleanDown => request.Page<PiecePausedPage, PieceView>(view),
            "resumed" when view is { Night.MayRecord: true, IsCleanDown: false } && view.Night.StopOf(piece) is null =>
                request.Page<PieceResumedPage, PieceView>(view),
            "reopened" when view is { Night.MayRecord: true, IsCleanDown: false } =>
                request.Page<PieceReopenedPage, PieceView>(view),
            "blocked" when !view.IsCleanDown => request.Page<PieceBlockedPage, PieceView>(view),
            "not-safe" => request.Page<PieceNotSafePage, PieceView>(view),
            _ => request.Page<PiecePage, PieceView>(view),
        })).WithVersion(night.Stream.Version);
    }

    internal static SheetPiece? PieceOf(NightSheet sheet, string number) =>
        sheet.Pieces.FirstOrDefault(piece => $"{piece.Number}" == number);
}
