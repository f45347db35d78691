using NodaTime;
using OneOf;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Solving;

namespace SetWeek.Service.Http.Requests;

/// <summary>What a slice gets to know of a request; everything in it has passed the checks of <see cref="Edge"/>.</summary>
public sealed class Request(
    Caller caller, Instant now, IReadOnlyDictionary<string, string> route, IQueryCollection query, string accept)
{
    public Caller Caller => caller;
    public Instant Now => now;
    public ReadOnlyMemory<byte> Body { get; init; }
    public CancellationToken Cancelled { get; init; }

    /// <summary>The best plans so far of the solves that run on this node.</summary>
    public required SolveProgress Progress { get; init; }

    /// <summary>For what is worked out while the caller waits.</summary>
    public required Admission Admission { get; init; }

    /// <summary>The version of If-Match; only where the operation asks for one.</summary>
    public long Version { get; init; }

    /// <summary>Part of the address, in the form of an id.</summary>
    public string this[string name] => route[name];

    public string Id => route["id"];

    /// <summary>The address's own {id}, or nothing where it has none.</summary>
    public string Subject => route.GetValueOrDefault("id", "");

    public string? Query(string name) => query.TryGetValue(name, out var values) ? values.ToString() : null;

    /// <summary>The body as the reader makes it, or every fault in it.</summary>
    public OneOf<T, FaultReport> Read<T>(Func<JsonFields, T> read) => JsonCursor.Read(Body, root => root.Object(read));

    /// <summary>
    /// The first of the content types offered that the caller likes best (RFC 9110, 12.5.1); null where it wants none of them.
    /// </summary>
    public string? PreferredType(params IReadOnlyList<string> offered) => ContentNegotiation.Preferred(accept, offered);
}
