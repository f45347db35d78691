using SetWeek.Model.Json;

namespace SetWeek.Service.Http.Answers;

/// <summary>Problem details (RFC 9457) of a refusal or a failure.</summary>
public sealed record ProblemDetails(string Type, string Title, int Status, string Detail)
{
    public string? Instance { get; init; }

    /// <summary>A stable code of the reason, for programs.</summary>
    public string? Code { get; init; }

    /// <summary>The reasons for the refusal, one sentence each.</summary>
    public IReadOnlyList<string>? Because { get; init; }

    /// <summary>What the page says in place of the detail, which names what programs have: roles, tokens.</summary>
    internal string? OnPage { get; init; }

    /// <summary>All faults of the body.</summary>
    public IReadOnlyList<Fault>? Errors { get; init; }
}
