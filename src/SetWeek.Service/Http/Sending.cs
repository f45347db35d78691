using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Forms;
using SetWeek.Service.Http.Requests;
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
            answer = await ProblemPages.Show(answer, http.Features.Get<ProblemDetails>() ?? problem, http);
        }
        // After a form the browser goes to a page, so that loading it again repeats nothing (RFC 9110, section 15.4.4).
        // A program that uploads a photograph sends a form too, and gets its answer. A page that answers is shown: its secret
        // is nowhere else.
        if (http.Features.Get<FormRefusal>() is { } refusal)
        {
            // The page may have the form no more, as that of a kit that has come meanwhile.
            if (!answer.IsRefusal && !FormRefusals.IsSaidOn(answer))
                answer = await ProblemPages.Show(answer, http.Features.Get<ProblemDetails>()!, http);
            answer = answer with { Status = refusal.Status, ETag = null, Link = null };
        }
        else if (!answer.IsRefusal && http.Features.Get<FormPost>() is { } form
            && (form.Then ?? (IsPage(answer) ? null : answer.Location)) is { } next
            && (form.Then is not null || !FormPost.IsMultipart(http) || http.WantsPage()))
            answer = new Answer(303) { Location = next };
        if (IsPage(answer) && SessionOf(http, answer.Status) is { } session) http.Response.Headers[SessionHeader] = session;
        await answer.Send(http);
    }

    /// <returns>"none" if nobody is signed in; null if that is not known, as after a failure to read the session.</returns>
    private static string? SessionOf(HttpContext http, int status) =>
        PageContexts.Of(http).Session?.Id ?? (status < 500 ? "none" : null);

    private static bool IsPage(Answer answer) => answer.ContentType?.StartsWith("text/html", StringComparison.Ordinal) == true;

    /// <summary>Whether the caller prefers a page to JSON, as the Accept header of every browser says.</summary>
    public static bool WantsPage(this HttpContext http) => ContentNegotiation.Preferred(
        http.Request.Headers.Accept, [Refused.ContentType, "application/json", "text/html"]) == "text/html";
}
