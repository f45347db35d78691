using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Explaining.Reasons.Holding;

/// <summary>The stint that is asked about, where a plan has it, and all else that the plan has.</summary>
internal sealed class Subject
{
    public Subject(Problem problem, Schedule plan, Work work)
    {
        (Problem, Plan, Work) = (problem, plan, work);
        Stint = problem.Stints[work.Stint!.Value];
        Others = [.. plan.Work.Where(other => !ReferenceEquals(other, work))];
        ByStint = plan.ByStint(problem);
        Way = problem.WayOf(work)
            ?? throw new ArgumentException($"The plan has {Stint.Task.Id} in a mode that it does not have.", nameof(work));
    }

    public Problem Problem { get; }
    public Schedule Plan { get; }
    public Work Work { get; }
    public Stint Stint { get; }
    public Activity Task => Stint.Task;
    public Way Way { get; }
    public int Minutes => Work.Span.Minutes;
    public IReadOnlyList<Work> Others { get; }
    public IReadOnlyList<Work?> ByStint { get; }

    /// <summary>A fact: its times are reported, and nothing can be planned about it.</summary>
    public bool Begun => Problem.Facts?.Begun[Stint.Index] is not null;

    /// <summary>Starts before a minute, in no matter which night.</summary>
    public static Span Before(int minute) => new(-Problem.Never, minute);

    /// <summary>Starts at which it would be under way at some moment of a span.</summary>
    public Span During(Span span) => new(span.From - Minutes + 1, span.To);
}
