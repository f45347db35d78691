using NodaTime;
using SetWeek.Domain.Nights;

namespace SetWeek.Service.Printing.Sheets;

/// <summary>One person's pieces in order, with partners, tools, cautions, steps and checks, and the break among them.</summary>
internal static class CrewSheet
{
    public static PaperSheet Of(NightFacts facts, SheetPerson person)
    {
        var shift = facts.Sheet.Shifts.FirstOrDefault(shift => shift.Person == person.Person);
        var pieces = facts.Sheet.Pieces.Where(piece => NightFacts.DoneBy(piece).Any(other => other.Person == person.Person))
            .Select(piece => (At: piece.From.ToInstant(), Block: PieceBlocks.Of(facts, piece, person.Person)));
        var breaks = shift?.Break is { } rest ? [(At: rest.From.ToInstant(), Block: Break(facts, rest.From, rest.To))]
            : Array.Empty<(Instant At, PieceBlock Block)>();
        var blocks = pieces.Concat(breaks).OrderBy(part => part.At).Select(part => part.Block).ToList();
        PaperBlock[] work = blocks.Count > 0 ? [.. blocks] : [new TextBlock("", "No work is planned for you in this night.")];
        return facts.SheetOf(facts.Name(person), [Opening(facts, shift), .. work]);
    }

    private static TextBlock Opening(NightFacts facts, SheetShift? shift)
    {
        if (shift is null) return new TextBlock("You have no shift in this night.", facts.Keys);
        var keys = facts.Sheet.Keyholder?.Person == shift.Person ? "You have the keys." : facts.Keys;
        var rest = shift.Break is { } pause ? $"Break {facts.Hours(pause.From, pause.To)}." : "No break.";
        var home = shift.HomeBy is { } by ? $" Home by {facts.Time(by)}." : "";
        return new TextBlock($"{facts.Hours(shift.From, shift.To)}.", $"{rest}{home} {keys}");
    }

    private static PieceBlock Break(NightFacts facts, OffsetDateTime from, OffsetDateTime to) =>
        new(facts.Time(from), [$"to {facts.Time(to)}"], "Break", "", [], [], [], []);
}
