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
internal sealed class CrewShiftWindows
{
    private readonly Problem problem;
    private readonly ShiftWindow[][][] windows;
    private readonly Span[][] workSpans;

    public CrewShiftWindows(Problem problem)
    {
        this.problem = problem;
        windows = [.. problem.Crew.Select(person => problem.Nights.Select(night => OwnWindows(person, night)).ToArray())];
        workSpans = [.. problem.Nights.Select(night => PropagateAttendance(night))];
    }

    public IReadOnlyList<ShiftWindow> WindowsOf(int person, int night) => windows[person][night];

    /// <summary>Spans of the night, apart and in order, inside which all work with people lies.</summary>
    public IReadOnlyList<Span> WorkSpans(int night) => workSpans[night];

    /// <summary>
    /// Most minutes that a person can be at work in a night: break and, by work spans, opening and closing taken off.
    /// </summary>
    public int MaxWorkMinutes(int person, int night)
    {
        var most = 0;
        foreach (var room in windows[person][night])
            foreach (var span in workSpans[night])
                most = Math.Max(most, Math.Min(MaxPaidMinutes(problem.Crew[person], room.Longest), room.Within(span).Span.Minutes));
        return most;
    }

    /// <summary>
    /// Most minutes at work (or paid) in a shift of at most so long: a break begins to cost once the shift outgrows
    /// breakAfter.
    /// </summary>
    public static int MaxPaidMinutes(Person person, int maxShiftMinutes) =>
        maxShiftMinutes <= person.BreakAfter ? maxShiftMinutes : Math.Max(person.BreakAfter, maxShiftMinutes - person.BreakMinutes);

    /// <summary>The night began before now: what lies there may be older than the rules.</summary>
    public bool HasBegun(int night) => problem.Facts is { } facts && problem.Nights[night].Opens < facts.Now;

    private ShiftWindow[] OwnWindows(Person person, NightWindow night)
    {
        if (HasBegun(night.Index)) return [new(night.Opens, night.Closes, night.Closes, Problem.Never)];
        var found = person.ShiftWindows[night.Index].Select(window =>
            new ShiftWindow(window.From, window.To, window.To, Math.Min(person.MaxShift, person.MaxMinutesPerNight))).ToList();
        foreach (var busy in person.Commitments) found = [.. found.SelectMany(room => AroundCommitment(person, busy, room))];
        return [.. found.Select(room => SnapToGrid(night, room)).Where(room => HoldsShift(person, room)).Distinct()];
    }

    /// <summary>Before the commitment and its rest, after it and its rest, or joined to it as one working day.</summary>
    private static IEnumerable<ShiftWindow> AroundCommitment(Person person, Span commitment, ShiftWindow window)
    {
        if (commitment.From >= window.LatestEnd + person.MinRest || commitment.To <= window.EarliestStart - Math.Max(person.MinRest, person.JoinMinutes + 1))
        {
            yield return window;
            yield break;
        }
        yield return window with { LatestEnd = Math.Min(window.LatestEnd, commitment.From - person.MinRest) };
        yield return window with { EarliestStart = Math.Max(window.EarliestStart, commitment.To + person.MinRest) };
        if (person.JoinMinutes >= 0)
            yield return window with
            {
                EarliestStart = Math.Max(window.EarliestStart, commitment.To),
                LatestStart = Math.Min(window.LatestStart, commitment.To + person.JoinMinutes),
                MaxMinutes = Math.Min(window.MaxMinutes, person.MaxShift - commitment.Minutes),
            };
    }

    private ShiftWindow SnapToGrid(NightWindow night, ShiftWindow window)
    {
        var grid = problem.ShiftGridMinutes;
        int Down(int minute) => night.Opens + Math.Max(0, minute - night.Opens) / grid * grid;
        var (from, to, latest) = (Down(window.EarliestStart + grid - 1), Down(window.LatestEnd), Down(window.LatestStart));
        return new(from, Math.Min(latest, to), to, window.MaxMinutes >= Problem.Never ? Problem.Never
            : window.MaxMinutes / grid * grid);
    }

    private bool HoldsShift(Person person, ShiftWindow window) =>
        window.EarliestStart <= window.LatestStart && window.Longest >= Math.Max(person.MinShift, problem.ShiftGridMinutes);

    /// <summary>
    /// Narrows the night's rooms to what keyholder and company allow until nothing changes; answers where work may lie.
    /// </summary>
    private Span[] PropagateAttendance(NightWindow night)
    {
        if (HasBegun(night.Index)) return [night.Span];
        var launch = problem.Facts is null ? problem.Launch : Problem.Never;
        var (opening, closing) = problem.Rules.KeyholderPresent
            ? (problem.Rules.OpeningMinutes ?? 0, problem.Rules.ClosingMinutes ?? 0) : (0, 0);
        while (true)
        {
            var company = SpanSets.CoveredAtLeast(Math.Max(1, problem.Rules.MinPeople ?? 1),
                problem.Crew.Select(person => SpanSets.Union(windows[person.Index][night.Index].Select(room => room.Span))));
            var leads = problem.Rules.KeyholderPresent
                ? SpanSets.Union(problem.Crew.Where(person => person.Keyholder)
                    .SelectMany(person => windows[person.Index][night.Index])
                    .Select(room => room.Span).SelectMany(span => SpanSets.Intersect([span], company)))
                : company;
            var changed = false;
            foreach (var person in problem.Crew)
            {
                var before = windows[person.Index][night.Index];
                ShiftWindow[] after = [.. before.SelectMany(room => leads.Select(room.Within))
                    .Select(room => SnapToGrid(night, room)).Where(room => HoldsShift(person, room)).Distinct()];
                changed |= !after.SequenceEqual(before);
                windows[person.Index][night.Index] = after;
            }
            if (changed) continue;
            return [.. leads.Select(span => new Span(span.From + opening, Math.Min(span.To - closing, launch)))
                .Where(span => span.Minutes > 0)];
        }
    }
}
