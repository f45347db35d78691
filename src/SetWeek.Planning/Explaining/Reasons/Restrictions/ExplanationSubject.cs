using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Explaining.Reasons.Restrictions;

/// <summary>The stint to explain, its work in a plan, and the rest of the plan.</summary>
internal sealed class ExplanationSubject
{
    public ExplanationSubject(Problem problem, Schedule schedule, ScheduledWork work)
    {
        (Problem, Schedule, Work) = (problem, schedule, work);
        Stint = problem.Stints[work.Stint!.Value];
        OtherWork = [.. schedule.Work.Where(other => !ReferenceEquals(other, work))];
        WorkByStint = schedule.WorkByStint(problem);
        Mode = problem.ModeOf(work)
            ?? throw new ArgumentException($"The plan uses a mode that {Stint.Task.Id} does not define.", nameof(work));
    }

    public Problem Problem { get; }
    public Schedule Schedule { get; }
    public ScheduledWork Work { get; }
    public Stint Stint { get; }
    public IndexedTask Task => Stint.Task;
    public ActivityMode Mode { get; }
    public int Minutes => Work.Span.Minutes;
    public IReadOnlyList<ScheduledWork> OtherWork { get; }
    public IReadOnlyList<ScheduledWork?> WorkByStint { get; }

    /// <summary>True if the stint has begun: its times are facts and cannot change.</summary>
    public bool Begun => Problem.Facts?.BegunWork[Stint.Index] is not null;

    /// <summary>All starts before a minute, in any night.</summary>
    public static Span StartsBefore(int minute) => new(-Problem.Never, minute);

    /// <summary>The starts with which the stint would overlap a span.</summary>
    public Span StartsOverlapping(Span span) => new(span.From - Minutes + 1, span.To);
}
