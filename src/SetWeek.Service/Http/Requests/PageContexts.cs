using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Fields;

namespace SetWeek.Service.Http.Requests;

/// <summary>Finds out what a request says to its page.</summary>
public static class PageContexts
{
    public static PageContext Of(HttpContext http)
    {
        var operation = http.GetEndpoint()?.Metadata.GetMetadata<Operation>();
        var context = new PageContext
        {
            Address = $"{http.Request.Path}{http.Request.QueryString}",
            Refusal = http.Features.Get<FormRefusal>(),
            Readers = operation is { IsOpen: true } ? "For everybody." : null,
        };
        return Caller.From(http.User) is not { } caller ? context : context with
        {
            Session = SessionCookie.IsUsedBy(http.User) && SessionCookie.IdOf(http.User) is { } session
                ? new(session, $"{caller.Tenant}/{caller.Person}", () => FormToken.Issue(http)) : null,
            Readers = context.Readers ?? operation?.MayUse.Sentence,
        };
    }

    /// <summary>Answers an operation that needs no token with a page.</summary>
    public static async Task<Answer> Page<TPage, TModel>(this HttpContext http, TModel model)
        where TPage : PageComponent<TModel> =>
        Answer.Page(await PageRenderer.Render<TPage, TModel>(model, Of(http)));
}
