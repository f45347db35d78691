using Microsoft.AspNetCore.Antiforgery;

namespace SetWeek.Service.Access.Sessions;

/// <summary>
/// The anti-forgery token of a page or a script. Another site can make a browser send the session's cookie, but it cannot read a
/// token. A token belongs to one browser and one session.
/// </summary>
public sealed class FormToken : IAntiforgeryAdditionalDataProvider
{
    public const string Header = "X-SetWeek-Token", Field = ":token", SecureName = "__Host-setweek-form",
        PlainName = "setweek-form";

    public static void Configure(AntiforgeryOptions options, bool secure)
    {
        options.HeaderName = Header;
        options.FormFieldName = Field;
        SessionCookie.Configure(options.Cookie, secure ? SecureName : PlainName, secure);
    }

    /// <summary>A token for the page that is being answered. It sets the browser's half of it as a cookie.</summary>
    public static string Issue(HttpContext http) => Antiforgery(http).GetAndStoreTokens(http).RequestToken!;

    /// <summary>Whether a request has the token in its header or in its form; GET and HEAD need none.</summary>
    public static async Task<bool> IsGiven(HttpContext http)
    {
        try
        {
            return await Antiforgery(http).IsRequestValidAsync(http);
        }
        catch (AntiforgeryValidationException)
        {
            return false; // a form that cannot be read
        }
    }

    public string GetAdditionalData(HttpContext context) => SessionCookie.IdOf(context.User) ?? "";

    public bool ValidateAdditionalData(HttpContext context, string additionalData) =>
        additionalData == GetAdditionalData(context);

    private static IAntiforgery Antiforgery(HttpContext http) => http.RequestServices.GetRequiredService<IAntiforgery>();
}
