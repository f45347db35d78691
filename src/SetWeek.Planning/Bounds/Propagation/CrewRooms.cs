using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// Where shifts may lie, by person and night, and where crew may work, by night. Only rules that bind one shift, its night's
/// keyholder and the number of people together are used, each as a condition that every valid plan meets:
/// availability, young-worker and window (the person's windows); rest and joining against commitments, one at a time;
/// shift-length and the shift grid; keyholder (a shift lies in the keyholder's, so in a keyholder's room); two-person (a moment
/// for which fewer than minPeople have room is in nobody's shift); open-close (work lies inside a keyholder's room, less
/// opening and closing); launch. A re-plan's night that has begun is left open: facts may have broken rules there.
/// </summary>
internal sealed class CrewRooms
{
    private readonly Problem problem;
    private readonly ShiftRoom[][][] rooms;
    private readonly Span[][] workSpans;

    public CrewRooms(Problem problem)
    {
        this.problem = problem;
        rooms = [.. problem.Crew.Select(person => problem.Nights.Select(night => OwnRooms(person, night)).ToArray())];
        workSpans = [.. problem.Nights.Select(night => Together(night))];
    }

    public IReadOnlyList<ShiftRoom> Of(int person, int night) => rooms[person][night];

    /// <summary>Spans of the night, apart and in order, inside which all work with people lies.</summary>
    public IReadOnlyList<Span> WorkSpans(int night) => workSpans[night];

    /// <summary>
    /// Most minutes that a person can be at work in a night: break and, by work spans, opening and closing taken off.
    /// </summary>
    public int MostWork(int person, int night)
    {
        var most = 0;
        foreach (var room in rooms[person][night])
            foreach (var span in workSpans[night])
                most = Math.Max(most, Math.Min(AtWork(problem.Crew[person], room.Longest), room.Within(span).Span.Minutes));
        return most;
    }

    /// <summary>
    /// Most minutes at work (or paid) in a shift of at most so long: a break begins to cost once the shift outgrows
    /// breakAfter.
    /// </summary>
    public static int AtWork(Person person, int longest) =>
        longest <= person.BreakAfter ? longest : Math.Max(person.BreakAfter, longest - person.BreakMinutes);

    /// <summary>The night began before now: what lies there may be older than the rules.</summary>
    public bool Begun(int night) => problem.Facts is { } facts && problem.Nights[night].Opens < facts.Now;

    private ShiftRoom[] OwnRooms(Person person, NightWindow night)
    {
        if (Begun(night.Index)) return [new(night.Opens, night.Closes, night.Closes, Problem.Never)];
        var found = person.Windows[night.Index].Select(window =>
            new ShiftRoom(window.From, window.To, window.To, Math.Min(person.MaxShift, person.MaxMinutesPerNight))).ToList();
        foreach (var busy in person.Commitments) found = [.. found.SelectMany(room => Beside(person, busy, room))];
        return [.. found.Select(room => Snapped(night, room)).Where(room => Fits(person, room)).Distinct()];
    }

    /// <summary>Before the commitment and its rest, after it and its rest, or joined to it as one working day.</summary>
    private static IEnumerable<ShiftRoom> Beside(Person person, Span busy, ShiftRoom room)
    {
        if (busy.From >= room.To + person.MinRest || busy.To <= room.From - Math.Max(person.MinRest, person.Join + 1))
        {
            yield return room;
            yield break;
        }
        yield return room with { To = Math.Min(room.To, busy.From - person.MinRest) };
        yield return room with { From = Math.Max(room.From, busy.To + person.MinRest) };
        if (person.Join >= 0)
            yield return room with
            {
                From = Math.Max(room.From, busy.To),
                LatestFrom = Math.Min(room.LatestFrom, busy.To + person.Join),
                MaxMinutes = Math.Min(room.MaxMinutes, person.MaxShift - busy.Minutes),
            };
    }

    private ShiftRoom Snapped(NightWindow night, ShiftRoom room)
    {
        var grid = problem.ShiftGrid;
        int Down(int minute) => night.Opens + Math.Max(0, minute - night.Opens) / grid * grid;
        var (from, to, latest) = (Down(room.From + grid - 1), Down(room.To), Down(room.LatestFrom));
        return new(from, Math.Min(latest, to), to, room.MaxMinutes >= Problem.Never ? Problem.Never
            : room.MaxMinutes / grid * grid);
    }

    private bool Fits(Person person, ShiftRoom room) =>
        room.From <= room.LatestFrom && room.Longest >= Math.Max(person.MinShift, problem.ShiftGrid);

    /// <summary>
    /// Narrows the night's rooms to what keyholder and company allow until nothing changes; answers where work may lie.
    /// </summary>
    private Span[] Together(NightWindow night)
    {
        if (Begun(night.Index)) return [night.Span];
        var launch = problem.Facts is null ? problem.Launch : Problem.Never;
        var (opening, closing) = problem.Rules.KeyholderPresent
            ? (problem.Rules.OpeningMinutes ?? 0, problem.Rules.ClosingMinutes ?? 0) : (0, 0);
        while (true)
        {
            var company = Spans.WithAtLeast(Math.Max(1, problem.Rules.MinPeople ?? 1),
                problem.Crew.Select(person => Spans.Union(rooms[person.Index][night.Index].Select(room => room.Span))));
            var leads = problem.Rules.KeyholderPresent
                ? Spans.Union(problem.Crew.Where(person => person.Keyholder)
                    .SelectMany(person => rooms[person.Index][night.Index])
                    .Select(room => room.Span).SelectMany(span => Spans.Common([span], company)))
                : company;
            var changed = false;
            foreach (var person in problem.Crew)
            {
                var before = rooms[person.Index][night.Index];
                ShiftRoom[] after = [.. before.SelectMany(room => leads.Select(room.Within))
                    .Select(room => Snapped(night, room)).Where(room => Fits(person, room)).Distinct()];
                changed |= !after.SequenceEqual(before);
                rooms[person.Index][night.Index] = after;
            }
            if (changed) continue;
            return [.. leads.Select(span => new Span(span.From + opening, Math.Min(span.To - closing, launch)))
                .Where(span => span.Minutes > 0)];
        }
    }
}
