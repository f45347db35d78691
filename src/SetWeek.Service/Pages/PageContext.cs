using SetWeek.Service.Pages.Fields;

namespace SetWeek.Service.Pages;

/// <summary>
/// What a request says to any page that answers it. The renderer puts it around the page as a cascading value, so that no model
/// passes it on.
/// </summary>
public sealed record PageContext
{
    /// <summary>That of a page without a request, which is the same for everybody.</summary>
    public static PageContext None { get; } = new();

    /// <summary>The address of the page, with the query; empty without a request.</summary>
    public string Address { get; init; } = "";

    /// <summary>The form of the page that was refused just now; null if none was.</summary>
    public FormRefusal? Refusal { get; init; }

    /// <summary>The session that the page is made for; null for a reader without one.</summary>
    public PageSession? Session { get; init; }

    /// <summary>The sentence that says who may use the page; null where that is not said.</summary>
    public string? Readers { get; init; }

    /// <summary>Whether the form was refused just now, so that it must stand open.</summary>
    /// <param name="form">The id of the form, for pages with several that are sent to one address.</param>
    public bool HasRefused(string action, string form) => Refusal?.IsOf(action, form) == true;

    /// <summary>What was wrong with the form of that id, if it was refused just now, also if the page has it no more.</summary>
    public FormRefusal? RefusalOf(string form) =>
        Refusal is { } refusal && refusal.Typed.TryGetValue(FormFields.Form, out var sent) && sent[0] == form ? refusal : null;
}

/// <summary>
/// Whose session a page is made for. Its script sends a report in the session of the person who made it alone, and a browser
/// keeps the pages of one session (docs/decisions/offline.md).
/// </summary>
/// <param name="Id">The id of the session, which is no secret.</param>
/// <param name="Person">The chain and the person.</param>
/// <param name="FormToken">Makes the anti-forgery token of the form that signs out.</param>
public sealed record PageSession(string Id, string Person, Func<string> FormToken);
