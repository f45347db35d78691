using SetWeek.Service.Http.Answers;
using SetWeek.Service.Pages.Fields;

namespace SetWeek.Service.Http.Forms;

/// <summary>
/// Shows a refused form again. A form that names its page is answered with that page: the request goes through the pipeline once
/// more, as a GET of the page, and finds what was typed and what was wrong.
/// </summary>
public static class FormRefusals
{
    /// <summary>Says that the request is inside <see cref="Run"/>, so that a refusal is answered there.</summary>
    private sealed class Scope;

    public static async Task Run(HttpContext http, RequestDelegate next)
    {
        http.Features.Set(new Scope());
        try
        {
            await next(http);
        }
        finally
        {
            // A failure is answered further out, where nobody shows the form again.
            http.Features.Set<Scope>(null);
        }
        if (http.Features.Get<FormRefusal>() is not null && !http.Response.HasStarted
            && http.Features.Get<FormPost>() is { From: { } page }) await ShowAgain(http, page, next);
    }

    /// <returns>Whether the page of the form will answer, so that nothing may be sent now.</returns>
    public static bool IsKept(HttpContext http, ProblemDetails problem)
    {
        // Another site could have filled in a form that lacks its token, so what it says is not shown.
        if (http.Features.Get<Scope>() is null || problem.Code == Refused.NoFormToken
            || http.Features.Get<FormPost>() is not { From: not null } form) return false;
        http.Features.Set(new FormRefusal($"{http.Request.Path}{http.Request.QueryString}", problem.Status,
            problem.OnPage ?? problem.Detail, problem.Because ?? [], problem.Errors ?? [], form.Typed)
        {
            Pointers = form.Pointers,
            IsInPart = problem.Code == Refused.SomeRefused,
            HasPhoto = form.Photo is not null,
        });
        http.Features.Set(problem); // for a page that does not have the form any more
        return true;
    }

    /// <summary>
    /// Whether a page says why a form was refused: the element that does has this attribute (<see cref="Mend"/>). No text on a
    /// page looks so, because quotation marks in texts are sent as character references.
    /// </summary>
    public static bool IsSaidOn(Answer page) => page.Content.Span.IndexOf(" data-refused=\""u8) >= 0;

    private static Task ShowAgain(HttpContext http, string page, RequestDelegate next)
    {
        var query = page.IndexOf('?', StringComparison.Ordinal);
        http.Request.Method = HttpMethods.Get;
        http.Request.ContentType = null; // the form is read, and the page reads none
        http.Request.Path = query < 0 ? page : page[..query];
        http.Request.QueryString = new QueryString(query < 0 ? "" : page[query..]);
        http.SetEndpoint(null);
        http.Request.RouteValues.Clear();
        return next(http);
    }
}
