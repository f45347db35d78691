using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// Propagated time windows: where shifts can lie, by person and night, and where work with people can lie, by night. Each rule
/// contributes a condition that every valid plan meets:
/// availability, young-worker and window give the person's own windows; rest and joining cut them around each commitment;
/// shift-length and the shift grid bound lengths and round ends; keyholder puts every shift inside a window of some keyholder;
/// two-person removes moments at which fewer than minPeople have a window; open-close keeps work away from both ends of a
/// keyholder's window; launch ends all work. In a re-plan, a night that has begun is left unconstrained, because begun shifts may
/// have broken rules there.
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

    /// <summary>Disjoint spans of the night, in order. All work with people lies inside them.</summary>
    public IReadOnlyList<Span> WorkSpans(int night) => workSpans[night];

    /// <summary>Minutes of the night's longest work span; 0 where no work with people is possible.</summary>
    public int LongestWorkSpan(int night) => workSpans[night].Select(span => span.Minutes).DefaultIfEmpty(0).Max();

    /// <summary>
    /// Most minutes that a person can work in a night: bounded by the paid length of the longest shift and by the work spans.
    /// </summary>
    public int MaxWorkMinutes(int person, int night)
    {
        var most = 0;
        foreach (var window in windows[person][night])
            foreach (var span in workSpans[night])
                most = Math.Max(most,
                    Math.Min(MaxPaidMinutes(problem.Crew[person], window.Longest), window.Within(span).Span.Minutes));
        return most;
    }

    /// <summary>
    /// Most paid minutes in a shift of at most the given length. A shift longer than breakAfter has an unpaid break, so a
    /// shift of exactly breakAfter can be paid more than a longer one.
    /// </summary>
    public static int MaxPaidMinutes(Person person, int maxShiftMinutes) => maxShiftMinutes <= person.BreakAfter ? maxShiftMinutes
        : Math.Max(person.BreakAfter, maxShiftMinutes - person.BreakMinutes);

    /// <summary>The night opened before now, so its shifts and work may break rules.</summary>
    public bool HasBegun(int night) => problem.Facts is { } facts && problem.Nights[night].Opens < facts.Now;

    private ShiftWindow[] OwnWindows(Person person, NightWindow night)
    {
        if (HasBegun(night.Index)) return [new(night.Opens, night.Closes, night.Closes, Problem.Never)];
        var found = person.ShiftWindows[night.Index].Select(window =>
            new ShiftWindow(window.From, window.To, window.To, Math.Min(person.MaxShift, person.MaxMinutesPerNight))).ToList();
        foreach (var commitment in person.Commitments)
            found = [.. found.SelectMany(window => AroundCommitment(person, commitment, window))];
        return [.. found.Select(window => SnapToGrid(night, window)).Where(window => HoldsShift(person, window)).Distinct()];
    }

    /// <summary>
    /// The parts of a window that are left by a commitment: before it and its rest, after it and its rest, and directly after
    /// it where the two can join to one working day.
    /// </summary>
    private static IEnumerable<ShiftWindow> AroundCommitment(Person person, Span commitment, ShiftWindow window)
    {
        if (commitment.From >= window.LatestEnd + person.MinRest
            || commitment.To <= window.EarliestStart - Math.Max(person.MinRest, person.JoinMinutes + 1))
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
    /// Narrows the night's shift windows by the keyholder and two-person rules until a fixed point; returns the work spans.
    /// </summary>
    private Span[] PropagateAttendance(NightWindow night)
    {
        if (HasBegun(night.Index)) return [night.Span];
        var launch = problem.Facts is null ? problem.Launch : Problem.Never;
        var (opening, closing) = problem.Rules.KeyholderPresent
            ? (problem.Rules.OpeningMinutes ?? 0, problem.Rules.ClosingMinutes ?? 0) : (0, 0);
        while (true)
        {
            var staffed = SpanSets.CoveredAtLeast(Math.Max(1, problem.Rules.MinPeople ?? 1),
                problem.Crew.Select(person => SpanSets.Union(windows[person.Index][night.Index].Select(window => window.Span))));
            var attended = problem.Rules.KeyholderPresent
                ? SpanSets.Union(problem.Crew.Where(person => person.Keyholder)
                    .SelectMany(person => windows[person.Index][night.Index])
                    .Select(window => window.Span).SelectMany(span => SpanSets.Intersect([span], staffed)))
                : staffed;
            var changed = false;
            foreach (var person in problem.Crew)
            {
                var before = windows[person.Index][night.Index];
                ShiftWindow[] after = [.. before.SelectMany(window => attended.Select(window.Within))
                    .Select(window => SnapToGrid(night, window)).Where(window => HoldsShift(person, window)).Distinct()];
                changed |= !after.SequenceEqual(before);
                windows[person.Index][night.Index] = after;
            }
            if (changed) continue;
            return [.. attended.Select(span => new Span(span.From + opening, Math.Min(span.To - closing, launch)))
                .Where(span => span.Minutes > 0)];
        }
    }
}
