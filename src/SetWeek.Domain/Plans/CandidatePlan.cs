using NodaTime;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Domain.Plans;

/// <summary>
/// A requested plan: its input and its result. It is a document, because it may contain names, which an erasure removes.
/// </summary>
public sealed record CandidatePlan
{
    /// <summary>The solver is native code and may end the process. After this many attempts the request is given up.</summary>
    public const int MostAttempts = 3;

    public required string Id { get; init; }
    public required string Week { get; init; }
    public required CandidateState State { get; init; }

    /// <summary>The version of the week's stream from which the plan is computed.</summary>
    public required long WeekVersion { get; init; }

    /// <summary>
    /// The hash of the <see cref="PlannerInput"/>. If it differs now, the plan is overtaken, unless only reports from the floor
    /// have come since and the plan agrees with them.
    /// </summary>
    public required string InputHash { get; init; }

    /// <summary>Store-local; a re-plan starts no new work before it.</summary>
    public required LocalDateTime Now { get; init; }

    /// <summary>When the plan was requested.</summary>
    public required Instant Asked { get; init; }
    public required PlanLimits Limits { get; init; }

    /// <summary>The trace id of the request that asked for the plan; null if a batch did, and in older candidates.</summary>
    public string? Trace { get; init; }

    /// <summary>The batch of head office that asked for the plan, such as a delay of kits; null: a lead asked.</summary>
    public string? Batch { get; init; }

    /// <summary>For a re-plan: the plan that was published when it was computed.</summary>
    public Plan? Replaces { get; init; }

    /// <summary>For a re-plan: the reported work from which it was computed. Null in older candidates.</summary>
    public IReadOnlyList<ProgressReport>? Progress { get; init; }

    public Plan? Plan { get; init; }

    /// <summary>
    /// The chance that the plan holds, measured on fresh runs. Null without a plan, and for a batch.
    /// </summary>
    public HoldChance? Chance { get; init; }

    /// <summary>Time from the start of the search to the best plan.</summary>
    public long? AfterMilliseconds { get; init; }

    /// <summary>Whether a lead ended the search before its limit, to have the best plan found by then.</summary>
    public bool IsEndedEarly { get; init; }

    /// <summary>Why the candidate cannot be published. Null if it can be, or if its plan already gives the reason.</summary>
    public string? Failure { get; init; }

    /// <summary>
    /// How often a search was started, without those that were stopped on purpose. Stored before each start.
    /// </summary>
    public int Attempts { get; init; }

    /// <summary>
    /// For a re-plan: the options to choose from, this plan first. The others are candidates of their own. A batch has none.
    /// </summary>
    public IReadOnlyList<OfferedOption> Options { get; init; } = [];

    /// <summary>The input of a re-plan as it was when the plan was computed; null for a first plan.</summary>
    public Replan? ReplanAsComputed() => Replaces is { } published ? new Replan(published, Now, Progress ?? []) : null;

    /// <summary>Whether the request has an outcome. It is stored once; a repeated message then does nothing.</summary>
    public bool Settled => State is not (CandidateState.Queued or CandidateState.Solving);

    /// <summary>Records an attempt, or gives up after too many.</summary>
    /// <param name="attempt">From 1.</param>
    public CandidatePlan Started(int attempt) =>
        attempt <= MostAttempts ? this with { State = CandidateState.Solving, Attempts = attempt }
        : this with
        {
            State = CandidateState.Failed,
            Failure = $"The search was started {MostAttempts} times, and the service ended each time before it was finished. "
                + "It is not started again. This is an internal error. Request a new plan with another seed.",
        };

    /// <summary>The outcome of a search that failed by a fault of ours before it found a plan.</summary>
    public CandidatePlan Fail() => this with
    {
        State = CandidateState.Failed,
        Failure = "The planner failed because of an internal error. The log of the service has the details.",
    };

    /// <summary>
    /// Whether this request for the same week makes another one needless: a newer one does, but a batch never supersedes a
    /// lead's.
    /// </summary>
    public bool Supersedes(CandidatePlan other) =>
        string.CompareOrdinal(Id, other.Id) > 0 && (Batch is null || other.Batch is not null);

    public CandidatePlan WithResult(Plan plan, HoldChance? chance = null) => this with
    {
        Plan = plan,
        Chance = chance,
        Failure = plan.Status == PlanStatus.Unknown
            ? "No plan was found in the time given. One may exist: request again with more time." : null,
        State = plan.Status is PlanStatus.Optimal or PlanStatus.Feasible ? CandidateState.Ready : CandidateState.None,
    };

    /// <summary>
    /// This candidate with the plan of the first option, then a new candidate for each other option.
    /// </summary>
    /// <param name="problem">The problem of the re-plan.</param>
    public IReadOnlyList<CandidatePlan> WithResult(ReplanOffer offer, Problem problem)
    {
        var own = WithResult(offer.Plan, offer.Options is [var first, ..] ? first.Chance : null);
        OfferedOption[] options = [.. offer.Options.Select(
            (option, index) => OfferedOption.Of(IdOf(option, index), option, problem))];
        return
        [
            own with { Options = options },
            .. offer.Options.Select((option, index) =>
                own.WithResult(option.Plan, option.Chance) with { Id = IdOf(option, index), Options = options }).Skip(1),
        ];
    }

    private string IdOf(Option option, int index) => index == 0 ? Id : $"{Id}.{option.Id}";
}

/// <summary>
/// None: no plan exists (proven), or none was found in the time given; the status of the plan tells which. Overtaken: facts
/// reported since have changed the input.
/// </summary>
public enum CandidateState { Queued, Solving, Ready, None, Overtaken, Cancelled, Failed }
