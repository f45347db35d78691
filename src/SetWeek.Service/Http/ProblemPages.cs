using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Forms;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Fields;

namespace SetWeek.Service.Http;

/// <summary>Makes the page of a refusal or a failure. A refusal of a form has one only if no page shows the form again.</summary>
internal static class ProblemPages
{
    public static async Task<Answer> Show(Answer answer, ProblemDetails problem, HttpContext http)
    {
        // It is not what the address shows to those who may use it.
        var context = PageContexts.Of(http) with { Readers = null };
        var page = Answer.Page(await PageRenderer.Render<ProblemPage, ProblemPage.Problem>(await PageOf(problem, http), context));
        return answer with { Content = page.Content, ContentType = page.ContentType, Problem = problem };
    }

    private static async Task<ProblemPage.Problem> PageOf(ProblemDetails problem, HttpContext http)
    {
        var (before, isFailure) = (PageBefore(http.Request), problem.Status >= 500);
        var needsSignIn = problem.Status == StatusCodes.Status401Unauthorized;
        // Its token may not have been checked, and another site may have filled it in. It says nothing here unless a page of ours
        // sent it, and no photograph is read for it.
        var isShown = isFailure || needsSignIn || problem.Code == Refused.NoFormToken
            ? before is not null : http.Features.Get<FormRefusal>() is not null;
        var form = http.Features.Get<FormPost>() ?? (isShown && !FormPost.IsMultipart(http) ? await FormPost.Of(http) : null);
        return new($"{problem.Status} {problem.Title}", problem.OnPage ?? problem.Detail,
            [.. problem.Because ?? [], .. (problem.Errors ?? []).Select(fault => $"{fault.Pointer}: {fault.Detail}")])
        {
            IsOnPhone = SessionCookie.PhoneOf(http.User) is not null || http.Request.Path.StartsWithSegments("/phone"),
            NeedsSignIn = needsSignIn,
            IsFailure = isFailure,
            MayTryAgain = isFailure && HttpMethods.IsGet(http.Request.Method),
            Back = form is not null || FormPost.IsForm(http) ? before ?? form?.Then : null,
            Typed = form is not null && isShown ? TextsIn(form) : [],
            Again = form is not null && isShown && isFailure && MayBeSentAgain(form)
                ? new($"{http.Request.Path}{http.Request.QueryString}", form.Typed) : null,
        };
    }

    /// <summary>
    /// What a person has typed, such as a reason or a time. A form has ids and codes too, which say nothing to a person: they are
    /// one word in small letters.
    /// </summary>
    private static IReadOnlyList<string> TextsIn(FormPost form) =>
        [.. from field in form.Typed
            where !field.Key.StartsWith(':') && !field.Key.EndsWith(":json", StringComparison.Ordinal)
                && !field.Key.EndsWith(":now", StringComparison.Ordinal) && field.Key != FormFields.Pin
            from value in field.Value
            where value != "" && !Ids.IsId(value)
            select value];

    /// <summary>Nobody who takes the device later may find a PIN on the page, and a photograph is not on it.</summary>
    private static bool MayBeSentAgain(FormPost form) => form.Photo is null && !form.Typed.ContainsKey(FormFields.Pin);

    /// <summary>The page of this service that the request came from; null if it is not said.</summary>
    private static string? PageBefore(HttpRequest request) =>
        Uri.TryCreate(request.Headers.Referer.ToString(), UriKind.Absolute, out var page) && page.Authority == request.Host.Value
            ? page.PathAndQuery : null;
}
