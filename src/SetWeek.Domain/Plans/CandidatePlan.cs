using NodaTime;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Search;

namespace SetWeek.Domain.Plans;

/// <summary>
/// A plan that was asked for: what it is computed from, and what came of it. A document: it may hold names, which an
/// erasure takes out.
/// </summary>
public sealed record CandidatePlan
{
    /// <summary>The solver is native code, and may end the process: a plan that does so again and again is given up.</summary>
    public const int MostAttempts = 3;

    public required string Id { get; init; }
    public required string Week { get; init; }
    public required CandidateState State { get; init; }

    /// <summary>Version of the week's stream that it is computed from.</summary>
    public required long WeekVersion { get; init; }

    /// <summary>Of <see cref="PlannerInput"/>: another hash now means that facts have overtaken it.</summary>
    public required string InputHash { get; init; }

    /// <summary>Store-local; a re-plan starts nothing new before it.</summary>
    public required LocalDateTime Now { get; init; }

    public required Instant Asked { get; init; }
    public required PlanLimits Limits { get; init; }
    /// <summary>A re-plan: the plan that was published when it was worked out.</summary>
    public Plan? Replaces { get; init; }

    public Plan? Plan { get; init; }

    /// <summary>After how long the best was found.</summary>
    public long? AfterMilliseconds { get; init; }

    /// <summary>Why there is nothing to publish, where the plan itself does not say it.</summary>
    public string? Failure { get; init; }

    /// <summary>
    /// How often it was begun and the service neither got to its end nor put it back: stored before each begin.
    /// </summary>
    public int Attempts { get; init; }

    /// <summary>A re-plan: what the lead may choose from, this plan first; the others are candidates of their own.</summary>
    public IReadOnlyList<OfferedOption> Options { get; init; } = [];

    /// <summary>An outcome is stored once: a message that comes again finds this and does nothing.</summary>
    public bool Settled => State is not (CandidateState.Queued or CandidateState.Solving);

    /// <summary>One attempt more, or given up.</summary>
    public CandidatePlan Started() =>
        Attempts < MostAttempts ? this with { State = CandidateState.Solving, Attempts = Attempts + 1 }
        : this with
        {
            State = CandidateState.Failed,
            Failure = $"It was begun {MostAttempts} times, and each time the service ended before it was done; it is not begun "
                + "again. This is our fault. Ask anew: another seed takes another way.",
        };

    /// <summary>Stopped in good order: what is begun next is no attempt more.</summary>
    public CandidatePlan WithoutLastAttempt() => this with { Attempts = Attempts - 1 };

    public CandidatePlan WithResult(Plan plan) => this with
    {
        Plan = plan,
        Failure = plan.Status == PlanStatus.Unknown
            ? "No plan was found in the time given. There may be one: ask again, for longer." : null,
        State = plan.Status is PlanStatus.Optimal or PlanStatus.Feasible ? CandidateState.Ready : CandidateState.None,
    };

    /// <summary>
    /// This with the first option's plan, then a candidate for each of the others: published, read and overtaken alike.
    /// </summary>
    /// <param name="problem">Of the re-plan.</param>
    public IReadOnlyList<CandidatePlan> WithResult(ReplanOffer offer, Problem problem)
    {
        var own = WithResult(offer.Plan);
        OfferedOption[] options = [.. offer.Options.Select((option, at) => OfferedOption.Of(IdOf(option, at), option, problem))];
        return
        [
            own with { Options = options },
            .. offer.Options.Select((option, at) => own.WithResult(option.Plan) with { Id = IdOf(option, at), Options = options })
                .Skip(1),
        ];
    }

    private string IdOf(Option option, int at) => at == 0 ? Id : $"{Id}.{option.Id}";
}

/// <summary>
/// None: it is proven that there is no plan, or none was found in the time given (the plan's status says which).
/// </summary>
public enum CandidateState { Queued, Solving, Ready, None, Overtaken, Cancelled, Failed }

/// <summary>How long to look: seconds, or an effort that gives the same plan on any machine.</summary>
public sealed record PlanLimits(double? Seconds, double? Effort, int Workers, int Seed)
{
    public const int DefaultSeconds = 10, MostSeconds = 300, MostEffort = 300, DefaultWorkers = 2, MostWorkers = 8;

    public SearchLimits ToLimits() => new()
    {
        Time = TimeSpan.FromSeconds(Seconds ?? (Effort is null ? DefaultSeconds : MostSeconds)), Effort = Effort,
        Workers = Workers,
        Seed = Seed,
    };
}
