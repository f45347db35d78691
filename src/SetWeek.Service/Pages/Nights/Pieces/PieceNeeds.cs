using SetWeek.Domain;
using SetWeek.Domain.Nights;
using SetWeek.Service.Pages.Kits;

namespace SetWeek.Service.Pages.Nights.Pieces;

/// <summary>The tools and pieces that a piece of work needs, a line each.</summary>
internal static class PieceNeeds
{
    public static IReadOnlyList<string> Of(SheetPiece piece) =>
    [
        .. piece.Equipment.Select(tool => $"{tool.Count} × {IdWords.Spaced(tool.Equipment)}"),
        .. piece.Cards.SelectMany(card => card.Tools).Distinct(),
        .. piece.Kits.Select(KitLine),
    ];

    private static string KitLine(SheetKitLine line) =>
        line.KitName
        + (line.Item is { } item ? $": {(line.Needed is { } needed ? $"{needed} × " : "")}{IdWords.Spaced(item)}" : "")
        + (line.Cartons.Count == 0 ? "" : $", in {KitWords.Cartons(line.Cartons)}")
        + (line.Received is { } received
            ? $". {received} counted{(line.Damaged is > 0 and var bad ? $", {bad} of them damaged" : "")}."
            : line.Arrived is not null ? ". Here, not counted." : ". Not here yet.");
}
