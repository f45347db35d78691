using SetWeek.Service.Access;

namespace SetWeek.Service.Http.Requests;

/// <summary>The declaration of a slice: its route, who may use it, and what the API description shows.</summary>
public sealed record Operation(string Method, string Path, string Id, string Summary)
{
    /// <summary>The last part of the slice's namespace.</summary>
    public string Tag { get; init; } = "";

    /// <summary>Whether it changes state. The edge sets it.</summary>
    public bool IsCommand { get; init; }

    /// <summary>Whether anybody may use it without a token.</summary>
    public bool IsOpen { get; init; }

    public required Permission MayUse { get; init; }
    public required IReadOnlyList<Reply> Replies { get; init; }

    /// <summary>The JSON body; null if the slice reads none.</summary>
    public RequestBody? Body { get; init; }

    /// <summary>Whether a form of it may have a photograph.</summary>
    public PhotoUse Photos { get; init; }

    /// <summary>Whether an If-Match header is required, so that a decision applies to the version that was read.</summary>
    public bool IfMatch { get; init; }

    /// <summary>
    /// Whether it may compute for long, so that it waits for its turn (<see cref="Admission"/>). The edge admits it before its
    /// transaction begins.
    /// </summary>
    public bool NeedsAdmission { get; init; }

    /// <summary>The field of the body that names the store, for <see cref="AccessScope.StoreInBody"/>.</summary>
    public string? StoreField { get; init; }

    /// <summary>The statuses of refusals that follow from nothing above.</summary>
    public IReadOnlyList<int> Refusals { get; init; } = [];

    public IReadOnlyList<QueryParameter> Query { get; init; } = [];
}

/// <summary>What an operation does with the photograph of a form, sent as multipart/form-data (RFC 7578).</summary>
public enum PhotoUse
{
    /// <summary>It takes none.</summary>
    None,

    /// <summary>A page's form may have one; its id is then in the list "photos" of the body.</summary>
    InForm,

    /// <summary>A program sends one, with its id.</summary>
    Upload,
}

/// <param name="Shape">The type that the JSON of the body represents.</param>
/// <param name="Example">A valid body; a test sends it.</param>
/// <param name="IsOptional">A missing body counts as an empty object.</param>
public sealed record RequestBody(Type Shape, string Example, bool IsOptional = false)
{
    /// <summary>
    /// Members, as paths such as "zones/or", that a body may leave out although the type always has them: their lists are empty
    /// then, and their numbers have a default.
    /// </summary>
    public IReadOnlyList<string> MayOmit { get; init; } = [];

    /// <summary>Whether it is a document that a page's form may send as a file, in <see cref="Pages.FormFields.Body"/>.</summary>
    public bool IsDocument { get; init; }

    /// <summary>Null unless the body has a list of bodies of other operations.</summary>
    public BodyItems? Items { get; init; }
}

/// <summary>
/// A list of bodies of other operations. Each item has the members of its own body, its kind, and the parts of its own address
/// that the address of the list lacks.
/// </summary>
/// <param name="List">The member that contains the list.</param>
/// <param name="Kinds">The operations by the kind of an item.</param>
public sealed record BodyItems(string List, IReadOnlyDictionary<string, Operation> Kinds)
{
    public const string Kind = "kind";
}

/// <param name="Shape">int for a whole number, string for any text.</param>
public sealed record QueryParameter(string Name, string Meaning, string Example, Type? Shape = null);

/// <summary>
/// A successful answer that the slice may give. One status has a reply for each form in which it is sent, such as JSON, a page
/// and a table.
/// </summary>
/// <param name="Shape">
/// The type that the JSON of the answer represents; string for a page or a table; byte[] for a file; null without content.
/// </param>
public sealed record Reply(int Status, string Meaning, Type? Shape = null, string ContentType = "application/json")
{
    /// <summary>
    /// Whether the answer to a query has an ETag. Every successful answer to a command is described with one: the new version of
    /// what it changed.
    /// </summary>
    public bool HasETag { get; init; }

    /// <summary>Whether a Link header leads to the next page.</summary>
    public bool HasLink { get; init; }

    public static Reply Page(string meaning) => new(200, meaning, typeof(string), "text/html");

    public static Reply Table(string meaning) => new(200, meaning, typeof(string), "text/csv");

    public static Reply File(string meaning, string contentType) => new(200, meaning, typeof(byte[]), contentType);
}
