using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Directions;
using SetWeek.Service.Printing.Layout;
using SetWeek.Service.Printing.Sheets;

namespace SetWeek.Service.Tests.Printing;

/// <summary>Nights to print: those of a published plan, with what is reported after it.</summary>
internal static class PaperWeek
{
    public static readonly Instant Printed = Instant.FromUtc(2027, 3, 7, 15, 0);

    private static readonly Instant Published = Instant.FromUtc(2027, 3, 5, 11, 46);

    /// <summary>The demo's week, and a plan of it that the planner made once: six nights of four to nine people.</summary>
    public static Week Demo { get; } = WeekFile.Read(
        File.ReadAllBytes(Repository.PathOf("docs", "examples", "harbour-street.week.json"))).AsT0;

    public static Plan DemoPlan { get; } = PlanFile.ReadPublished(File.ReadAllBytes(Repository.PathOf(
        "tests", "SetWeek.Service.Tests", "Printing", "harbour-street.plan.json")), Demo).AsT0;

    /// <summary>The direction from which the demo's week is scoped.</summary>
    public static Direction DemoDirection { get; } = JsonCursor.Read(
        File.ReadAllBytes(Repository.PathOf("ops", "scenario", "first-rain.direction.json")),
        root => root.Object(DirectionBody.Read)).AsT0;

    public static NightFacts DemoNight(string night, params IWeekEvent[] after) =>
        NightOf(Demo, DemoPlan, night, saysCounters: true, DemoDirection, after) with { Direction = DemoDirection };

    /// <summary>
    /// A night of the demo as large as one side has to hold: nine people and thirty stints. Stints of the nights after it are added,
    /// and all are dealt out in turn to the nine people of the fourth night. The kits that were due by the day before are counted.
    /// </summary>
    public static NightFacts LargeNight(string id)
    {
        var first = Demo.Nights.TakeWhile(night => night.Id != id).Count();
        var counted = Demo.Kits.Where(kit => kit.Eta < Demo.Nights[first].Opens.Date.AtMidnight()).SelectMany(Counted);
        var night = DemoNight(id, [.. counted]);
        var shifts = DemoNight("night-4").Sheet.Shifts;
        var added = Enumerable.Range(1, Demo.Nights.Count - 1).SelectMany(later =>
            DemoNight(Demo.Nights[(first + later) % Demo.Nights.Count].Id).Sheet.Pieces.Where(piece => piece.Task is not null));
        var turn = 0;
        SheetPerson Next()
        {
            var shift = shifts[turn++ % shifts.Count];
            return new(shift.Person, shift.Name);
        }

        var pieces = night.Sheet.Pieces.Concat(added.Select(piece => piece with
            {
                From = night.Sheet.Opens.Date.At(piece.From.TimeOfDay).WithOffset(piece.From.Offset),
                To = night.Sheet.Opens.Date.At(piece.To.TimeOfDay).WithOffset(piece.To.Offset),
            })).Take(30).OrderBy(piece => piece.From.ToInstant())
            .Select((piece, index) => piece with { Number = 101 + index, People = [.. piece.People.Select(_ => Next())] }).ToList();
        return night with { Sheet = night.Sheet with { Pieces = pieces, Shifts = shifts } };
    }

    private static IEnumerable<IWeekEvent> Counted(Kit kit)
    {
        var at = kit.Eta!.Value.WithOffset(Offset.Zero);
        return [new KitArrived($"came.{kit.Id}", kit.Id, at), new KitCounted(kit.Id, at,
            [.. kit.Lines.Select(line => new CountedLine(line.Item, line.Expected, 0))], Report: $"came.{kit.Id}")];
    }

    public static NightFacts NightOf(Week file, Plan plan, string night, params IWeekEvent[] after) =>
        NightOf(file, plan, night, saysCounters: true, null, after);

    /// <param name="saysCounters">Whether the reader belongs to the store.</param>
    /// <param name="direction">For the technique cards of the pieces.</param>
    public static NightFacts NightOf(
        Week file, Plan plan, string night, bool saysCounters, Direction? direction, params IWeekEvent[] after)
    {
        var crew = new CrewFile(file.Id, file.Crew);
        IWeekEvent[] before =
        [
            new WeekOpened("first-rain", 1, file with { Crew = [] }, [.. file.Crew.Select(member => member.Id)], []),
            new PlanPublished("plan-1", "hash-1", plan) { Issue = 1, By = file.Crew[0].Id, At = Published },
        ];
        var week = before.Concat(after).Aggregate((StoreWeek?)null, StoreWeek.Evolve)!;
        var sheet = NightSheets.Of(week, crew, file.Nights.First(known => known.Id == night),
            NightMargins.Of(week, crew, night), Printed, direction: direction);
        return NightFacts.Of("First Rain, Harbour Street", week, crew, sheet, saysCounters);
    }

    public static IReadOnlyList<PaperSheet> Print(NightFacts facts, string kind, SheetPerson? person = null) =>
        SheetKind.Find(kind)!.Print(facts, person);

    /// <summary>All text of a sheet, as its content has it.</summary>
    public static string TextOf(PaperSheet sheet) => string.Join("\n",
        [sheet.Title, .. sheet.Notes, .. sheet.Blocks.SelectMany(TextsOf), .. sheet.Foot]);

    /// <summary>What a page prints, in the order of its drawing.</summary>
    public static IEnumerable<TextMark> Texts(PaperPage page) => page.Marks.OfType<TextMark>();

    private static IEnumerable<string> TextsOf(PaperBlock block) => block switch
    {
        HeadingBlock heading => [heading.Text],
        TextBlock text => [$"{text.Strong} {text.Text}"],
        CautionBlock caution => caution.Items,
        ListBlock list => list.Items,
        TableBlock table => [.. table.Columns.Select(column => column.Head), .. table.Rows.SelectMany(row => row.Cells)],
        PieceBlock piece => [piece.Time, .. piece.Hints, piece.Title, piece.Where, .. piece.Cautions, .. piece.Steps,
            .. piece.Checks, .. piece.Blanks],
        BlanksBlock blanks => blanks.Labels,
        HalvesBlock halves => halves.Left.Concat(halves.Right).SelectMany(TextsOf),
        _ => throw new ArgumentException($"{block.GetType().Name} has no text here.", nameof(block)),
    };
}
