using System.Globalization;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Directions;

/// <summary>What a later version of a direction changes.</summary>
/// <param name="Display">The display that it concerns; null if it concerns the whole direction.</param>
public sealed record DirectionChange(string? Display, string Sentence)
{
    /// <summary>What is changed, by its name.</summary>
    public string Subject { get; init; } = "";

    /// <summary>What both versions say of it; empty for what is new or dropped.</summary>
    public IReadOnlyList<ChangedPart> Parts { get; init; } = [];

    /// <summary>The changes in the order of the later version; what was dropped comes last.</summary>
    public static IReadOnlyList<DirectionChange> Between(Direction before, Direction after) =>
    [
        .. before.Name == after.Name ? [] : (DirectionChange[])[new(null, $"It was called “{before.Name}”.")],
        .. after.Displays.SelectMany(display => OfDisplay(before, after, display)),
        .. after.Kits.SelectMany(kit => OfKit(before.Kits.FirstOrDefault(known => known.Id == kit.Id), kit)),
        .. after.Cards.SelectMany(card => OfCard(before, after, card)),
        .. Dropped(before.Displays, after.Displays, display => display.Id, display => display.Name),
        .. Dropped(before.Kits, after.Kits, kit => kit.Id, kit => kit.Name),
        .. Dropped(before.Cards, after.Cards, card => card.Id, card => card.Name),
    ];

    private static IEnumerable<DirectionChange> OfDisplay(Direction before, Direction after, DirectedDisplay display)
    {
        var (was, now) = (new DirectionWords(before), new DirectionWords(after));
        var known = before.Displays.FirstOrDefault(other => other.Id == display.Id);
        if (known is null) yield return new(display.Id, $"“{display.Name}” is new.");
        else if (Changed(display.Id, "", display.Name, Part("name", [known.Name], [display.Name]),
            Part("commitment", [DirectionWords.Promise(known)], [DirectionWords.Promise(display)],
                (known.Commitment, known.Value) == (display.Commitment, display.Value)),
            Part("alternate", was.Alternate(known), now.Alternate(display), known.Alternate == display.Alternate),
            Part("what a store must have", known.Requires, display.Requires),
            Part("description", Optional(known.About), Optional(display.About)),
            Part("drawings", DirectionWords.Drawings(known), DirectionWords.Drawings(display),
                known.Drawings.SequenceEqual(display.Drawings)),
            Part("that it must be shown", YesOrNo(known.MustBeShown), YesOrNo(display.MustBeShown)),
            Part("colours", was.Colours(known), now.Colours(display),
                known.Colours.Select(TextOf).SequenceEqual(display.Colours.Select(TextOf))),
            Part("figures", was.Figures(known), now.Figures(display),
                known.Figures.Select(TextOf).SequenceEqual(display.Figures.Select(TextOf)))) is { } change)
            yield return change;
        foreach (var task in after.Tasks.Where(task => task.Display == display.Id))
        {
            var earlier = before.Tasks.FirstOrDefault(other => other.Id == task.Id);
            if (earlier is null && known is not null) yield return new(display.Id, $"“{task.Name}” is new.");
            else if (earlier is not null && OfTask(was, now, earlier, task) is { } changed) yield return changed;
        }
        foreach (var task in before.Tasks
            .Where(task => task.Display == display.Id && after.Tasks.All(other => other.Id != task.Id)))
            yield return new(display.Id, $"“{task.Name}” is dropped.");
    }

    private static DirectionChange? OfTask(DirectionWords was, DirectionWords now, WeekTask before, WeekTask after) => Changed(
        after.Display, "", after.Name, Part("name", [before.Name], [after.Name]),
        Part("display", [was.Display(before.Display)], [now.Display(after.Display)], before.Display == after.Display),
        Part("place", [was.Zone(before.Zone)], [now.Zone(after.Zone)], before.Zone == after.Zone),
        Part("steps", before.Steps, after.Steps), Part("checks", before.Checks, after.Checks),
        Part("cautions", before.Cautions, after.Cautions),
        Part("minutes and hands", DirectionWords.Hands(before), DirectionWords.Hands(after),
            before.Modes.Select(TextOf).SequenceEqual(after.Modes.Select(TextOf)) && before.Stints == after.Stints),
        Part("what comes before it", was.Before(before), now.Before(after), before.After.SequenceEqual(after.After)),
        Part("what it needs", was.Needs(before), now.Needs(after), before.Needs.SequenceEqual(after.Needs)),
        Part("due night", Optional(before.Due), Optional(after.Due)),
        Part("properties", DirectionWords.Properties(before), DirectionWords.Properties(after),
            before.Traits.SequenceEqual(after.Traits) && before.Estimate == after.Estimate
                && (before.Last, before.Empties, before.Fills, before.ClosesZoneMinutes)
                    == (after.Last, after.Empties, after.Fills, after.ClosesZoneMinutes)));

    private static string TextOf(Mode mode) =>
        $"{mode.Minutes} {string.Join(' ', mode.Roles)} {string.Join(' ', mode.Equipment)}";

    private static IEnumerable<DirectionChange> OfKit(DirectedKit? before, DirectedKit after)
    {
        if (before is null)
        {
            yield return new(null, $"The kit “{after.Name}” is new.");
            yield break;
        }
        foreach (var line in after.Lines)
        {
            var known = before.Lines.FirstOrDefault(other => other.Item == line.Item);
            if (known is null)
                yield return OfLine($"“{after.Name}”, also sent: {line.Expected} × {IdWords.Spaced(line.Item)}.", null, line);
            else if (known.Expected != line.Expected)
                yield return OfLine($"“{after.Name}”: {line.Expected} × {IdWords.Spaced(line.Item)}; it was {known.Expected}.",
                    known, line);
        }
        foreach (var line in before.Lines.Where(line => after.Lines.All(other => other.Item != line.Item)))
            yield return OfLine($"“{after.Name}”: {IdWords.Spaced(line.Item)} is sent no more.", line, null);
        if (!before.Cartons.Select(TextOf).SequenceEqual(after.Cartons.Select(TextOf)))
            yield return new(null, $"“{after.Name}”: the cartons changed.")
            {
                Subject = after.Name, Parts = [new("cartons", DirectionWords.Cartons(before), DirectionWords.Cartons(after))],
            };

        DirectionChange OfLine(string sentence, DirectedLine? was, DirectedLine? now) => new(null, sentence)
        {
            Subject = after.Name,
            Parts = [new(IdWords.Spaced((was ?? now)!.Item), Optional(was?.Expected.ToString(CultureInfo.InvariantCulture)),
                Optional(now?.Expected.ToString(CultureInfo.InvariantCulture)))],
        };
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
        if (known is null) yield return new(display, $"The card “{card.Name}” is new.");
        else if (Changed(display, "The card ", card.Name, Part("name", [known.Name], [card.Name]),
            Part("pieces of work", new DirectionWords(before).Tasks(known.Tasks), new DirectionWords(after).Tasks(card.Tasks),
                known.Tasks.SequenceEqual(card.Tasks)),
            Part("cautions", known.Cautions, card.Cautions),
            Part("steps", DirectionWords.Steps(known), DirectionWords.Steps(card)),
            Part("what good looks like", known.Good, card.Good), Part("common mistakes", known.GoesWrong, card.GoesWrong),
            Part("tools", known.Tools, card.Tools),
            Part("films", DirectionWords.Films(known), DirectionWords.Films(card),
                known.Films.Select(TextOf).SequenceEqual(card.Films.Select(TextOf))),
            Part("sources", known.Sources, card.Sources)) is { } change)
            yield return change;
    }

    private static string TextOf(Film film) => $"{film.Title} {film.Seconds} {film.Address} {string.Join(' ', film.Said)}";

    /// <summary>The parts that are not the same, as a change; null if all are.</summary>
    /// <param name="kind">What stands before the name, such as "The card "; empty before that of a display or a task.</param>
    private static DirectionChange? Changed(string? display, string kind, string name, params IEnumerable<ChangedPart?> parts)
    {
        var changed = parts.OfType<ChangedPart>().ToList();
        return changed.Count == 0 ? null
            : new(display, $"{kind}“{name}”: {Phrases.List(changed.Select(part => part.Name))} changed.")
                { Subject = $"{kind}{name}", Parts = changed };
    }

    /// <param name="isSame">Where the lines do not say all of it: whether both versions have the same.</param>
    /// <returns>Null if both versions have the same.</returns>
    private static ChangedPart? Part(
        string name, IReadOnlyList<string> before, IReadOnlyList<string> after, bool? isSame = null) =>
        isSame ?? before.SequenceEqual(after) ? null : new(name, before, after);

    private static IReadOnlyList<string> Optional(string? text) => text is null ? [] : [text];

    private static IReadOnlyList<string> YesOrNo(bool answer) => [answer ? "yes" : "no"];

    private static IEnumerable<DirectionChange> Dropped<T>(
        IReadOnlyList<T> before, IReadOnlyList<T> after, Func<T, string> id, Func<T, string> name) =>
        before.Where(known => after.All(other => id(other) != id(known)))
            .Select(known => new DirectionChange(null, $"“{name(known)}” is dropped."));
}
