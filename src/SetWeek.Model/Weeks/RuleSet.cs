using NodaTime;

namespace SetWeek.Model.Weeks;

/// <summary>The parameters of the rules. A rule whose parameter is null does not apply.</summary>
public sealed record RuleSet
{
    /// <summary>Shortest rest in minutes between two shifts of a person, and between a shift and a commitment.</summary>
    public int? MinRestMinutes { get; init; }

    /// <summary>A commitment that ends at most this many minutes before a shift forms one working day with it.</summary>
    public int? JoinMinutes { get; init; }

    /// <summary>Shortest shift in minutes, break included.</summary>
    public int? MinShiftMinutes { get; init; }

    /// <summary>Longest working day in minutes: the shift with its break, and a commitment that is joined to it.</summary>
    public int? MaxShiftMinutes { get; init; }

    /// <summary>Shifts start and end on whole multiples of this many minutes after their night opens.</summary>
    public int? ShiftGridMinutes { get; init; }

    /// <summary>A shift longer than this many minutes has a break; no stretch before or after the break is longer.</summary>
    public int? BreakAfterMinutes { get; init; }

    /// <summary>Length of a break in minutes, before it is rounded up to the grid.</summary>
    public int? BreakMinutes { get; init; }

    /// <summary>Least minutes between a shift's start and its break, and between the break and the shift's end.</summary>
    public int? BreakClearMinutes { get; init; }

    /// <summary>No work of a person starts within this many minutes of the start of their shift.</summary>
    public int? BriefingMinutes { get; init; }

    /// <summary>By trait of a task: how many people are at work in its zone while it is done.</summary>
    public IReadOnlyList<CompanyRequirement> Company { get; init; } = [];

    /// <summary>Smallest number of people on shift at any moment when anyone is.</summary>
    public int? MinPeople { get; init; }

    /// <summary>True if each night with shifts has a keyholder whose shift spans all the others.</summary>
    public bool KeyholderPresent { get; init; }

    /// <summary>Minutes between the start of the keyholder's shift and the night's first work.</summary>
    public int? OpeningMinutes { get; init; }

    /// <summary>Minutes between the night's last work and the end of the keyholder's shift.</summary>
    public int? ClosingMinutes { get; init; }

    /// <summary>Paid minutes of the pay week after which overtime begins.</summary>
    public int? OvertimeAfterMinutes { get; init; }

    /// <summary>Pay of an overtime minute in percent of a normal one; null means 100.</summary>
    public int? OvertimePercent { get; init; }

    /// <summary>Minutes before the launch by which all work ends; null means 0.</summary>
    public int? LaunchBufferMinutes { get; init; }

    /// <summary>A shift that starts within this many minutes of a re-plan counts three times in the goal changes.</summary>
    public int? NoticeMinutes { get; init; }

    /// <summary>
    /// For the goal "reserve": percentage of the crew's time in the last night that the plan may use; null means 60.
    /// </summary>
    public int? ReservePercent { get; init; }

    /// <summary>What replaces these parameters for people under 18; null means nothing.</summary>
    public Under18Rules? Under18 { get; init; }

    /// <summary>
    /// Whether no rule applies. Equality cannot tell: it compares lists by reference. This is no property, which JSON would have.
    /// </summary>
    public bool IsEmpty() => Company.Count == 0 && Under18?.IsEmpty() != false
        && this with { Company = None.Company, Under18 = null } == None;

    private static readonly RuleSet None = new();
}

/// <summary>Work with a trait that nobody does alone, for example on a ladder.</summary>
/// <param name="Trait">The trait of the tasks.</param>
/// <param name="People">Least number of people at work in the task's zone at every moment of it, its own included.</param>
public sealed record CompanyRequirement(string Trait, int People);

/// <summary>The parameters for people under 18. A number that is given replaces the adult one.</summary>
public sealed record Under18Rules
{
    /// <summary>Local time of the evening by which a shift ends; null means no limit.</summary>
    public LocalTime? Until { get; init; }

    /// <summary>Traits of tasks that they may not work on.</summary>
    public IReadOnlyList<string> Barred { get; init; } = [];

    /// <inheritdoc cref="RuleSet.MinRestMinutes"/>
    public int? MinRestMinutes { get; init; }

    /// <inheritdoc cref="RuleSet.MaxShiftMinutes"/>
    public int? MaxShiftMinutes { get; init; }

    /// <inheritdoc cref="RuleSet.BreakAfterMinutes"/>
    public int? BreakAfterMinutes { get; init; }

    /// <inheritdoc cref="RuleSet.BreakMinutes"/>
    public int? BreakMinutes { get; init; }

    /// <inheritdoc cref="RuleSet.IsEmpty"/>
    public bool IsEmpty() => Barred.Count == 0 && this with { Barred = None.Barred } == None;

    private static readonly Under18Rules None = new();
}
