using NodaTime;
using OneOf;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Clocks;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Forms;
using SetWeek.Service.Json;
using SetWeek.Service.Pages;
using SetWeek.Service.Solving;

namespace SetWeek.Service.Http.Requests;

/// <summary>
/// A request as a slice sees it. It has passed the checks of <see cref="RequestReader"/> and <see cref="Edge"/>.
/// </summary>
public sealed class Request(
    Caller caller, Instant now, Instant systemTime, IReadOnlyDictionary<string, string> route, IQueryCollection query,
    IList<string> accept)
{
    private readonly ReadOnlyMemory<byte>? sent;

    public Caller Caller => caller;

    /// <summary>The current time by the clock of planning (<see cref="PlanningClock"/>).</summary>
    public Instant Now => now;

    /// <summary>The current time by the system's clock, for ids and for how long something is kept.</summary>
    public Instant SystemTime => systemTime;

    public ReadOnlyMemory<byte> Body { get; init; }

    /// <summary>What a repetition has in common with the first request: the body, without what the service filled in.</summary>
    public ReadOnlyMemory<byte> Sent { get => sent ?? Body; init => sent = value; }

    /// <summary>Whether the body was sent as the form of a page.</summary>
    public bool IsForm { get; init; }

    /// <summary>Whether the caller is signed in on an enrolled phone, which others have in hand too.</summary>
    public bool IsOnSharedPhone { get; init; }

    /// <summary>The photograph of the form; null if it has none.</summary>
    public FormPhoto? Photo { get; init; }

    public CancellationToken Cancelled { get; init; }

    /// <summary>The id of the last server-sent event that the caller has received; null if it sends none.</summary>
    public string? LastEventId { get; init; }

    /// <summary>Limits the computations that callers wait for.</summary>
    public required Admission Admission { get; init; }

    public required PlanIds PlanIds { get; init; }

    /// <summary>Which addresses the service may call on the caller's behalf.</summary>
    public required OutboundRules Outbound { get; init; }

    /// <summary>The address under which browsers reach the service, without a slash at its end.</summary>
    public string Origin { get; init; } = "";

    /// <summary>How far the stated time of a report may be ahead of the service's clock and still be believed.</summary>
    public Duration ReportAhead { get; init; }

    /// <summary>
    /// Makes the anti-forgery token for the forms of a page; null if the caller has a bearer token, and so no use for forms.
    /// </summary>
    public Func<string?> FormToken { get; init; } = () => null;

    /// <summary>What it says to the page that answers it.</summary>
    public PageContext Context { get; init; } = PageContext.None;

    /// <summary>Answers with a page.</summary>
    /// <param name="forOnly">Who may use the page, if not all whom the operation names.</param>
    public async Task<Answer> Page<TPage, TModel>(TModel model, Permission? forOnly = null) where TPage : PageComponent<TModel> =>
        Answer.Page(await PageRenderer.Render<TPage, TModel>(
            model, forOnly is null ? Context : Context with { Readers = forOnly.Sentence }));

    /// <summary>The caller as the reader of a page: by name, or by id if the caller is not of that crew.</summary>
    public Frame.Reader ReaderIn(CrewFile crew) => new(crew.Find(caller.Person)?.Name ?? caller.Person, IsOnSharedPhone);

    /// <summary>The version in If-Match; 0 if the operation does not require one.</summary>
    public long Version { get; init; }

    /// <summary>A parameter of the route; always a valid id.</summary>
    public string this[string name] => route[name];

    public bool Has(string name) => route.ContainsKey(name);

    public string Id => route["id"];

    /// <summary>The {id} of the route; empty if the route has none.</summary>
    public string Subject => route.GetValueOrDefault("id", "");

    /// <summary>The time of a report that states the given one.</summary>
    public ReportTime TimeOf(OffsetDateTime stated) => ReportTime.Of(stated, Now, ReportAhead);

    public string? Query(string name) => query.TryGetValue(name, out var values) ? values.ToString() : null;

    /// <summary>A filter of the address; null if it is missing, or empty as a form sends a filter that is not used.</summary>
    public string? Filter(string name) => Query(name) is { Length: > 0 } value ? value : null;

    /// <summary>
    /// New ids for the reports and photographs of a page's forms. None consists of digits alone, as the number of a snag does.
    /// </summary>
    public IReadOnlyList<string> NewIds(int count) =>
        [.. Enumerable.Range(0, count).Select(_ => $"page-{PlanIds.Next(SystemTime)}")];

    /// <summary>A text field of the body; null if the body has none of that name, or is invalid.</summary>
    public string? TextOf(string field) =>
        JsonCursor.Read(Body, root => root.RawElement()).Match(body => JsonText.Of(body, field), _ => null);

    /// <summary>Reads the body; returns every fault in it if it is invalid.</summary>
    public OneOf<T, FaultReport> Read<T>(Func<JsonFields, T> read) => JsonCursor.Read(Body, root => root.Object(read));

    /// <summary>
    /// The offered content type that the caller prefers (RFC 9110, section 12.5.1); null if it accepts none of them.
    /// </summary>
    public string? PreferredType(params IReadOnlyList<string> offered) => ContentNegotiation.Preferred(accept, offered);

    /// <summary>
    /// Whether the caller prefers a page to JSON, as every browser does. A caller that accepts neither gets JSON, as RFC 9110,
    /// section 12.5.1, allows.
    /// </summary>
    public bool WantsPage => PreferredType("application/json", "text/html") == "text/html";
}
