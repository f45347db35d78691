using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Plans;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages.Charts;

/// <summary>The lanes of a night. Each piece of work is in the lane of its zone, and in the lane of each of its people.</summary>
internal sealed class NightLanes(
    Week week, WeekLabels words, NightTimes times, PlannedNight night, NightNotes notes)
{
    private readonly Dictionary<string, int> patterns =
        week.Store.Zones.Select(zone => zone.Id).Index().ToDictionary(zone => zone.Item, zone => zone.Index);

    private readonly PlannedWork[] inOrder = [.. night.Work.OrderBy(work => work.From.ToInstant())
        .ThenBy(work => work.To.ToInstant()).ThenBy(work => work.Task, StringComparer.Ordinal)];

    /// <summary>
    /// In the order of the shifts. People who work without a shift come after, and last a lane for work that needs nobody.
    /// </summary>
    public IReadOnlyList<Lane> ByPerson()
    {
        var shifts = night.Shifts.OrderBy(shift => shift.From.ToInstant())
            .ThenBy(shift => words.Person(shift.Person), StringComparer.Ordinal).ToList();
        var others = night.Work.SelectMany(work => work.People).Select(person => person.Person).Distinct()
            .Except(shifts.Select(shift => shift.Person));
        var lanes = shifts.Select(shift => LaneOf(shift.Person, shift))
            .Concat(others.Order(StringComparer.Ordinal).Select(person => LaneOf(person, null)));
        var unmanned = inOrder.Where(work => work.People.Count == 0).ToList();
        return unmanned.Count == 0 ? [.. lanes] : [.. lanes, LaneOf("No people needed", "", null, unmanned, words.ZoneOf)];
    }

    /// <summary>In the order of the store's zones: those with work, drying or closed.</summary>
    public IReadOnlyList<Lane> ByZone(IReadOnlyList<ZoneRest> rests, Span range)
    {
        var work = inOrder.ToLookup(ZoneIdOf);
        var resting = rests.Select(rest => (Time: rest, Span: times.Of(rest.From, rest.To).Clip(range)))
            .Where(rest => rest.Span.Minutes > 0).ToLookup(rest => rest.Time.Zone);
        var zones = week.Store.Zones.Select(zone => zone.Id)
            .Union(work.Select(zone => zone.Key).Order(StringComparer.Ordinal));
        return [.. zones.Where(zone => work.Contains(zone) || resting.Contains(zone)).Select(zone =>
        {
            var pieces = work[zone].ToList();
            var closed = resting[zone].ToList();
            var rows = RowPacking.Of([.. pieces.Select(SpanOf), .. closed.Select(rest => rest.Span)]);
            var known = week.Store.Zones.FirstOrDefault(candidate => candidate.Id == zone);
            return new Lane(known?.Name ?? zone, known?.MaxPeople is { } most ? $"room for {most}" : "", false,
                patterns.GetValueOrDefault(zone), null, null,
                [.. pieces.Index().Select(piece => BarOf(piece.Item, rows[piece.Index], PeopleOf(piece.Item)))],
                [.. closed.Index().Select(rest => new RestBar(rest.Item.Span, rows[pieces.Count + rest.Index],
                    rest.Item.Time.IsClosed, TextOf(rest.Item.Time)))],
                rows.Max() + 1);
        })];
    }

    private Lane LaneOf(string person, PlannedShift? shift)
    {
        var pieces = inOrder.Where(work => work.People.Any(worker => worker.Person == person)).ToList();
        return LaneOf(words.Person(person), person, shift, pieces, work =>
        {
            var others = work.People.Where(other => other.Person != person).Select(other => words.Person(other.Person)).ToList();
            return $"{words.ZoneOf(work)}, {(others.Count == 0 ? "alone" : $"with {WeekLabels.Join(others)}")}";
        });
    }

    private Lane LaneOf(string name, string person, PlannedShift? shift, List<PlannedWork> pieces,
        Func<PlannedWork, string> with)
    {
        var rows = RowPacking.Of([.. pieces.Select(SpanOf)]);
        return new Lane(name, shift is null ? "" : $"{times.Text(shift.From)}–{times.Text(shift.To)}",
            shift is not null && night.Keyholder == person, null,
            shift is null ? null : times.Of(shift.From, shift.To),
            shift?.Break is { } pause ? times.Of(pause.From, pause.To) : null,
            [.. pieces.Index().Select(piece => BarOf(piece.Item, rows[piece.Index], with(piece.Item)))], [],
            rows.DefaultIfEmpty(0).Max() + 1);
    }

    private Bar BarOf(PlannedWork work, int row, string with)
    {
        var note = notes.Pieces.GetValueOrDefault(PieceNumbering.KeyOf(work, night.Night));
        var number = note?.Number is { } known ? $"{known} " : "";
        return new Bar(SpanOf(work), row, work, number + words.Work(work), with,
            $"{number}{words.WorkWithDisplay(work)}, {words.ZoneOf(work)}, {times.Text(work.From)} to {times.Text(work.To)}: "
                + $"{PeopleOf(work)}.{(note is { IsTight: true } ? " Five minutes in hand or fewer." : "")}"
                + (note is { IsChanged: true } ? " Changed in this issue." : ""), patterns.GetValueOrDefault(ZoneIdOf(work)))
        {
            IsTight = note is { IsTight: true }, IsChanged = note is { IsChanged: true },
        };
    }

    private Span SpanOf(PlannedWork work) => times.Of(work.From, work.To);

    private string PeopleOf(PlannedWork work) => work.People.Count == 0 ? "no people needed"
        : WeekLabels.Join([.. work.People.Select(person => words.Person(person.Person))]);

    private string ZoneIdOf(PlannedWork work) => work.CleanDown ?? words.Task(work.Task)?.Zone ?? "";

    /// <summary>The day is named if the time is not in the night or the morning after it.</summary>
    private string TextOf(ZoneRest rest)
    {
        var isNear = times.Window is { } window && rest.To.LocalDateTime < window.Closes.PlusHours(12);
        var until = isNear ? times.Text(rest.To) : ZoneRest.DayAndTime(rest.To);
        return $"{(rest.IsClosed ? "closed" : "dries")} until {until}";
    }
}
