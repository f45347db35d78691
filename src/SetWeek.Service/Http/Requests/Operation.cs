using SetWeek.Service.Access;

namespace SetWeek.Service.Http.Requests;

/// <summary>The declaration of a slice: its route, who may use it, and what the API description shows.</summary>
public sealed record Operation(string Method, string Path, string Id, string Summary)
{
    /// <summary>The last part of the slice's namespace.</summary>
    public string Tag { get; init; } = "";

    public required Permission MayUse { get; init; }
    public required IReadOnlyList<Reply> Replies { get; init; }

    /// <summary>The JSON body; null if the slice reads none.</summary>
    public RequestBody? Body { get; init; }

    /// <summary>Whether an If-Match header is required, so that a decision applies to the version that was read.</summary>
    public bool IfMatch { get; init; }

    /// <summary>The field of the body that names the store, for <see cref="AccessScope.StoreInBody"/>.</summary>
    public string? StoreField { get; init; }

    public IReadOnlyList<QueryParameter> Query { get; init; } = [];
}

/// <param name="Shape">The type that the JSON of the body represents.</param>
/// <param name="Example">A valid body; a test sends it.</param>
/// <param name="IsOptional">A missing body counts as an empty object.</param>
public sealed record RequestBody(Type Shape, string Example, bool IsOptional = false);

public sealed record QueryParameter(string Name, string Meaning, string Example);

/// <summary>A successful answer that the slice may give.</summary>
public sealed record Reply(int Status, string Meaning, Type? Shape = null, string ContentType = "application/json");
