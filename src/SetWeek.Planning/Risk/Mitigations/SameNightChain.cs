using SetWeek.Model.Changes;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>
/// Tasks of which each has to follow another in the same night, so that nothing is left half-secured for a morning, and the moves
/// that may give them time: an earlier start, another night, a longer night, or one more person.
/// </summary>
internal sealed class SameNightChain
{
    private const int MaxOtherNights = 1;

    private readonly Problem problem;
    private readonly Schedule schedule;
    private readonly MitigationCase unchanged;
    private readonly ScheduledWork?[] planned;
    private readonly IndexedTask first;
    private readonly List<IndexedTask> tasks;

    /// <param name="problem">The problem of the plan.</param>
    /// <param name="unchanged">The week and its plan.</param>
    /// <param name="halfSecured">Two tasks of the chain.</param>
    public SameNightChain(Problem problem, MitigationCase unchanged, HalfSecured halfSecured)
    {
        (this.problem, this.unchanged, schedule) = (problem, unchanged, unchanged.Schedule);
        planned = schedule.WorkByStint(problem);
        first = problem.Tasks[problem.TaskOf(halfSecured.Task)];
        while (first.Precedences.Where(IsInSameNight).Select(precedence => problem.Tasks[precedence.Predecessor])
            .FirstOrDefault(IsPlanned) is { } before)
            first = before;
        tasks = [first];
        for (var next = 0; next < tasks.Count; next++)
            tasks.AddRange(problem.Tasks.Where(task => IsPlanned(task) && !tasks.Contains(task)
                && task.Precedences.Any(precedence => precedence.SameNight && precedence.Predecessor == tasks[next].Index)));
    }

    /// <summary>The night in which the chain is planned.</summary>
    private int Night => planned[first.FirstStint]!.Night;

    /// <summary>The first task earlier in its night: at the earliest that its predecessors allow, and half-way.</summary>
    public IEnumerable<SecuringCandidate> EarlierStarts()
    {
        if (IsFixed) yield break;
        var from = planned[first.FirstStint]!.From;
        var window = problem.Nights[Night];
        var earliest = Math.Max(window.Opens + (problem.Rules.BriefingMinutes ?? 0), first.Release);
        if (problem.Facts is { } facts)
            earliest = Math.Max(earliest, Math.Max(facts.Now, facts.EarliestStarts[first.FirstStint]));
        if (problem.Rules.KeyholderPresent)
            earliest = Math.Max(earliest, window.Opens + (problem.Rules.OpeningMinutes ?? 0));
        foreach (var precedence in first.Precedences)
            if (planned[problem.Tasks[precedence.Predecessor].LastStint] is { } before)
                earliest = Math.Max(earliest, before.To + precedence.LagMinutes);
        var grid = problem.Week.GridMinutes;
        foreach (var start in new[] { earliest, (earliest + from) / 2 }
            .Select(minute => window.Opens + (minute - window.Opens + grid - 1) / grid * grid).Distinct())
            if (start < from) yield return EarlierStart(from, start);
    }

    /// <summary>The first task in another night: the one with the least planned work.</summary>
    public IEnumerable<SecuringCandidate> OtherNights() => IsFixed ? [] : problem.Nights
        .Where(night => night.Index != Night && night.Closes > Math.Max(problem.Facts?.Now ?? -Problem.Never, first.Release)
            && tasks.All(task => night.Opens < task.Due) && night.Opens < problem.Grid.MinuteOf(problem.Week.Launch))
        .OrderBy(night => schedule.Work.Where(work => work.Night == night.Index)
            .Sum(work => work.Assignments.Count * work.Span.Minutes))
        .Take(MaxOtherNights).Select(night => Pinned(new StintPin(first.Id) { Stint = 1, Night = night.Id },
            $"{Name} is begun in {WeekPhrases.Night(problem.Week, night.Id)} instead of "
                + $"{WeekPhrases.Night(problem.Week, problem.Nights[Night].Id)}."));

    /// <summary>A longer night, and one more person for a task of the chain.</summary>
    public IEnumerable<SecuringCandidate> Changes()
    {
        IEnumerable<MitigationCandidate> changes =
        [
            .. LongerNight.For(problem, [Night]),
            .. ExtraPersonForTask.For(problem, schedule, tasks.Select(task => task.Index))
                .Where(person => IsInNight(person.Change)),
        ];
        return changes.DistinctBy(change => change.Change).Select(change => new SecuringCandidate(
            change.Sentence(problem.Week), change.Apply(unchanged), [change.Change], []));
    }

    private string Name => WeekPhrases.Task(problem.Week, problem.Week.Tasks[first.Index]);

    /// <summary>True if the first task has begun, or somebody has fixed it.</summary>
    private bool IsFixed => problem.Facts?.BegunWork[first.FirstStint] is not null
        || problem.Week.Pins.OfType<StintPin>().Any(pin => pin.Task == first.Id);

    private bool IsInNight(WeekChange change) => change is ExtraPerson person && person.Night == problem.Nights[Night].Id;

    private SecuringCandidate EarlierStart(int was, int start)
    {
        var from = problem.Grid.TimeOf(start).LocalDateTime;
        return Pinned(new StintPin(first.Id) { Stint = 1, Night = problem.Nights[Night].Id, From = from },
            $"{Name} begins at {WeekPhrases.Clock(from)} instead of "
                + $"{WeekPhrases.Clock(problem.Grid.TimeOf(was).LocalDateTime)}.");
    }

    private SecuringCandidate Pinned(StintPin pin, string sentence) => new(sentence,
        unchanged with { Week = unchanged.Week with { Pins = [.. unchanged.Week.Pins, pin] } }, [], [pin]);

    private bool IsInSameNight(Precedence precedence) => precedence.SameNight;

    private bool IsPlanned(IndexedTask task) => planned[task.FirstStint] is not null;
}

/// <summary>A move that may give a chain time, applied to the week.</summary>
/// <param name="Sentence">The move in words.</param>
/// <param name="Case">The week with the move.</param>
/// <param name="Changes">The changes to the week.</param>
/// <param name="Pins">The pins added to the week.</param>
internal sealed record SecuringCandidate(
    string Sentence, MitigationCase Case, IReadOnlyList<WeekChange> Changes, IReadOnlyList<StintPin> Pins);
