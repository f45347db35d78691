using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Forms;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Fields;

namespace SetWeek.Service.Http;

/// <summary>Sends answers; a refusal goes to a browser as a page.</summary>
internal static class Sending
{
    /// <summary>It names the session of a page: a browser keeps the pages of one alone (docs/decisions/offline.md).</summary>
    private const string SessionHeader = "SetWeek-Session";

    public static async Task Reply(this HttpContext http, Answer answer)
    {
        if (answer.Problem is { } problem && WantsPage(http))
        {
            if (FormRefusals.IsKept(http, problem)) return;
            answer = await WithPage(http, answer, http.Features.Get<ProblemDetails>() ?? problem);
        }
        // After a form the browser goes to a page, so that loading it again repeats nothing (RFC 9110, section 15.4.4).
        // A program that uploads a photograph sends a form too, and gets its answer. A page that answers is shown: its secret
        // is nowhere else.
        if (http.Features.Get<FormRefusal>() is { } refusal)
        {
            // The page may have the form no more, as that of a kit that has come meanwhile.
            if (!answer.IsRefusal && !SaysRefusal(answer))
                answer = await WithPage(http, answer, http.Features.Get<ProblemDetails>()!);
            answer = answer with { Status = refusal.Status, ETag = null, Link = null };
        }
        else if (!answer.IsRefusal && http.Features.Get<FormPost>() is { } form
            && (form.Then ?? (IsPage(answer) ? null : answer.Location)) is { } next
            && (form.Then is not null || !FormPost.IsMultipart(http) || http.WantsPage()))
            answer = new Answer(303) { Location = next };
        if (IsPage(answer)) http.Response.Headers[SessionHeader] = PageContexts.Of(http).Session?.Id ?? "none";
        await answer.Send(http);
    }

    private static async Task<Answer> WithPage(HttpContext http, Answer answer, ProblemDetails problem)
    {
        // It is not what the address shows to those who may use it.
        var context = PageContexts.Of(http) with { Readers = null };
        var page = Answer.Page(await PageRenderer.Render<ProblemPage, ProblemPage.Problem>(await PageOf(problem, http), context));
        return answer with { Content = page.Content, ContentType = page.ContentType, Problem = problem };
    }

    private static bool SaysRefusal(Answer page) => page.Content.Span.IndexOf("role=\"alert\""u8) >= 0;

    private static bool IsPage(Answer answer) => answer.ContentType?.StartsWith("text/html", StringComparison.Ordinal) == true;

    /// <summary>Whether the caller prefers a page to JSON, as the Accept header of every browser says.</summary>
    public static bool WantsPage(this HttpContext http) => ContentNegotiation.Preferred(
        http.Request.Headers.Accept, [Refused.ContentType, "application/json", "text/html"]) == "text/html";

    private static async Task<ProblemPage.Problem> PageOf(ProblemDetails problem, HttpContext http)
    {
        var before = PageOf(http.Request);
        // Without a session another site may have filled it in, and no photograph is read.
        var isShown = problem.Status == StatusCodes.Status401Unauthorized || problem.Code == Refused.NoFormToken
            ? before is not null && !FormPost.IsMultipart(http) : http.Features.Get<FormRefusal>() is not null;
        var form = http.Features.Get<FormPost>() ?? (isShown ? await FormPost.Of(http) : null);
        return new($"{problem.Status} {problem.Title}", problem.OnPage ?? problem.Detail,
            [.. problem.Because ?? [], .. (problem.Errors ?? []).Select(fault => $"{fault.Pointer}: {fault.Detail}")],
            form is not null || FormPost.IsForm(http) ? before ?? form?.Then : null)
        {
            NeedsSignIn = problem.Status == StatusCodes.Status401Unauthorized,
            IsFault = problem.Status >= 500,
            MayTryAgain = problem.Status >= 500 && HttpMethods.IsGet(http.Request.Method),
            Typed = form is not null && isShown ? TypedIn(form) : [],
        };
    }

    /// <summary>What a person has typed or chosen, as far as it may be shown.</summary>
    private static IReadOnlyList<(string Name, string Value)> TypedIn(FormPost form) =>
        [.. from field in form.Typed
            where !field.Key.StartsWith(':') && !field.Key.EndsWith(":json", StringComparison.Ordinal) && field.Key != "pin"
            from value in field.Value
            where value != ""
            select (field.Key.Split(':')[0], value)];

    /// <summary>The page of this service that the request came from; null if it is not said.</summary>
    private static string? PageOf(HttpRequest request) =>
        Uri.TryCreate(request.Headers.Referer.ToString(), UriKind.Absolute, out var page) && page.Authority == request.Host.Value
            ? page.PathAndQuery : null;
}
