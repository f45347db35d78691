using SetWeek.Service.Access;

namespace SetWeek.Service.Http.Requests;

/// <summary>What a slice says of itself: its address, who may use it, and what the API description shows.</summary>
public sealed record Operation(string Method, string Path, string Id, string Summary)
{
    /// <summary>The subject: the last part of the slice's namespace.</summary>
    public string Tag { get; init; } = "";

    public required Permission MayUse { get; init; }
    public required IReadOnlyList<Reply> Replies { get; init; }

    /// <summary>Reads a JSON body; the example is one.</summary>
    public RequestBody? Body { get; init; }

    /// <summary>Guards a decision: without an If-Match header the request is refused.</summary>
    public bool IfMatch { get; init; }

    public IReadOnlyList<QueryParameter> Query { get; init; } = [];
}

/// <param name="Shape">The type whose JSON form the body has.</param>
/// <param name="Example">A body that is accepted; a test reads it.</param>
/// <param name="IsOptional">No body at all is taken as an empty object.</param>
public sealed record RequestBody(Type Shape, string Example, bool IsOptional = false);

public sealed record QueryParameter(string Name, string Meaning, string Example);

/// <summary>An answer that the slice may give when all is well.</summary>
public sealed record Reply(int Status, string Meaning, Type? Shape = null, string ContentType = "application/json");
