using SetWeek.Model.Json;

namespace SetWeek.Service.Http.Answers;

/// <summary>Problem details (RFC 9457) of a refusal or a failure.</summary>
public sealed record ProblemDetails(string Type, string Title, int Status, string Detail)
{
    public string? Instance { get; init; }

    /// <summary>What the state of things forbids, for programs.</summary>
    public string? Code { get; init; }

    /// <summary>What stands behind the refusal, a sentence each.</summary>
    public IReadOnlyList<string>? Because { get; init; }

    /// <summary>What is wrong with the body, all of it.</summary>
    public IReadOnlyList<Fault>? Errors { get; init; }
}
