using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Directions;

/// <summary>What a later version of a direction changes.</summary>
/// <param name="Display">The display that it concerns; null if it concerns the whole direction.</param>
public sealed record DirectionChange(string? Display, string Sentence)
{
    /// <summary>The changes in the order of the later version; what was dropped comes last.</summary>
    public static IReadOnlyList<DirectionChange> Between(Direction before, Direction after) =>
    [
        .. before.Name == after.Name ? [] : (DirectionChange[])[new(null, $"It was called {before.Name}.")],
        .. after.Displays.SelectMany(display => OfDisplay(before, after, display)),
        .. after.Kits.SelectMany(kit => OfKit(before.Kits.FirstOrDefault(known => known.Id == kit.Id), kit)),
        .. after.Cards.SelectMany(card => OfCard(before, after, card)),
        .. Dropped(before.Displays, after.Displays, display => display.Id, display => display.Name),
        .. Dropped(before.Kits, after.Kits, kit => kit.Id, kit => kit.Name),
        .. Dropped(before.Cards, after.Cards, card => card.Id, card => card.Name),
    ];

    private static IEnumerable<DirectionChange> OfDisplay(Direction before, Direction after, DirectedDisplay display)
    {
        var known = before.Displays.FirstOrDefault(other => other.Id == display.Id);
        if (known is null) yield return new(display.Id, $"{display.Name} is new.");
        else if (Parts(("name", known.Name == display.Name),
            ("commitment", (known.Commitment, known.Value) == (display.Commitment, display.Value)),
            ("alternate", known.Alternate == display.Alternate),
            ("what a store must have", known.Requires.SequenceEqual(display.Requires)),
            ("description", known.About == display.About), ("drawings", known.Drawings.SequenceEqual(display.Drawings)),
            ("that it must be shown", known.MustBeShown == display.MustBeShown),
            ("colours", known.Colours.Select(TextOf).SequenceEqual(display.Colours.Select(TextOf))),
            ("figures", known.Figures.Select(TextOf).SequenceEqual(display.Figures.Select(TextOf)))) is { } parts)
            yield return new(display.Id, $"{display.Name}: {parts} changed.");
        foreach (var task in after.Tasks.Where(task => task.Display == display.Id))
        {
            var earlier = before.Tasks.FirstOrDefault(other => other.Id == task.Id);
            if (earlier is null && known is not null) yield return new(display.Id, $"{task.Name} is new.");
            else if (earlier is not null && PartsOf(earlier, task) is { } changed)
                yield return new(display.Id, $"{task.Name}: {changed} changed.");
        }
        foreach (var task in before.Tasks
            .Where(task => task.Display == display.Id && after.Tasks.All(other => other.Id != task.Id)))
            yield return new(display.Id, $"{task.Name} is dropped.");
    }

    private static string? PartsOf(WeekTask before, WeekTask after) => Parts(
        ("name", before.Name == after.Name), ("display", before.Display == after.Display), ("place", before.Zone == after.Zone),
        ("steps", before.Steps.SequenceEqual(after.Steps)), ("checks", before.Checks.SequenceEqual(after.Checks)),
        ("cautions", before.Cautions.SequenceEqual(after.Cautions)),
        ("minutes and hands",
            before.Modes.Select(TextOf).SequenceEqual(after.Modes.Select(TextOf)) && before.Stints == after.Stints),
        ("what comes before it", before.After.SequenceEqual(after.After)),
        ("what it needs", before.Needs.SequenceEqual(after.Needs)),
        ("due night", before.Due == after.Due),
        ("properties", before.Traits.SequenceEqual(after.Traits) && before.Estimate == after.Estimate
            && (before.Last, before.Empties, before.Fills, before.ClosesZoneMinutes)
                == (after.Last, after.Empties, after.Fills, after.ClosesZoneMinutes)));

    private static string TextOf(Mode mode) =>
        $"{mode.Minutes} {string.Join(' ', mode.Roles)} {string.Join(' ', mode.Equipment)}";

    private static IEnumerable<DirectionChange> OfKit(DirectedKit? before, DirectedKit after)
    {
        if (before is null)
        {
            yield return new(null, $"The kit {after.Name} is new.");
            yield break;
        }
        foreach (var line in after.Lines)
        {
            var known = before.Lines.FirstOrDefault(other => other.Item == line.Item);
            if (known is null) yield return new(null, $"{after.Name}: {line.Expected} of {line.Item} are sent too.");
            else if (known.Expected != line.Expected)
                yield return new(null, $"{after.Name}: {line.Expected} of {line.Item}; it was {known.Expected}.");
        }
        foreach (var line in before.Lines.Where(line => after.Lines.All(other => other.Item != line.Item)))
            yield return new(null, $"{after.Name}: {line.Item} is sent no more.");
        if (!before.Cartons.Select(TextOf).SequenceEqual(after.Cartons.Select(TextOf)))
            yield return new(null, $"{after.Name}: the cartons changed.");
    }

    private static string TextOf(Carton carton) => TextOf([carton.Mark, "", .. carton.Holds, "", .. carton.Items]);

    private static string TextOf(DirectedColour colour) => TextOf([colour.Name, .. colour.Tasks]);

    private static string TextOf(DirectedFigure figure) =>
        TextOf([figure.Name, figure.Pose ?? "", figure.Accessory ?? "", .. figure.Wears, "", .. figure.Tasks]);

    private static string TextOf(IReadOnlyList<string> lines) => string.Join('\n', lines);

    private static IEnumerable<DirectionChange> OfCard(Direction before, Direction after, TechniqueCard card)
    {
        var known = before.Cards.FirstOrDefault(other => other.Id == card.Id);
        var display = after.Tasks.FirstOrDefault(task => card.Tasks.Contains(task.Id))?.Display;
        if (known is null) yield return new(display, $"The card {card.Name} is new.");
        else if (Parts(("name", known.Name == card.Name), ("pieces of work", known.Tasks.SequenceEqual(card.Tasks)),
            ("cautions", known.Cautions.SequenceEqual(card.Cautions)), ("steps", known.Steps.SequenceEqual(card.Steps)),
            ("what good looks like", known.Good.SequenceEqual(card.Good)),
            ("common mistakes", known.GoesWrong.SequenceEqual(card.GoesWrong)), ("tools", known.Tools.SequenceEqual(card.Tools)),
            ("films", known.Films.Select(TextOf).SequenceEqual(card.Films.Select(TextOf))),
            ("sources", known.Sources.SequenceEqual(card.Sources))) is { } parts)
            yield return new(display, $"The card {card.Name}: {parts} changed.");
    }

    private static string TextOf(Film film) => $"{film.Title} {film.Seconds} {film.Address} {string.Join(' ', film.Said)}";

    /// <summary>The parts that are not the same, as a phrase; null if all are.</summary>
    private static string? Parts(params IEnumerable<(string Name, bool IsSame)> parts)
    {
        var changed = parts.Where(part => !part.IsSame).Select(part => part.Name).ToList();
        return changed.Count == 0 ? null : Phrases.List(changed);
    }

    private static IEnumerable<DirectionChange> Dropped<T>(
        IReadOnlyList<T> before, IReadOnlyList<T> after, Func<T, string> id, Func<T, string> name) =>
        before.Where(known => after.All(other => id(other) != id(known)))
            .Select(known => new DirectionChange(null, $"{name(known)} is dropped."));
}
