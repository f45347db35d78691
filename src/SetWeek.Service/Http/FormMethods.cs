using SetWeek.Model.Weeks;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Forms;
using SetWeek.Service.Pictures;

namespace SetWeek.Service.Http;

/// <summary>
/// What is done with a form before routing: a form can only GET and POST, so its address names another method:
/// "?form-method=put".
/// </summary>
public static class FormMethods
{
    public const string Query = "form-method";

    /// <summary>The largest form in bytes, as that of a night with all pieces of the largest week needs.</summary>
    public const int MaxBytes = 2 * 1024 * 1024;

    /// <summary>The largest form with a photograph: the photograph and some dozens of short fields.</summary>
    public const int MaxMultipartBytes = Picture.MaxBytes + 1024 * 1024;

    /// <summary>
    /// The most fields of a form, as its largest needs: that on which the pieces of a night are recorded at once. It has six for
    /// the beginning and six for the end of each piece. Some dozens are added for the fields that a form has once.
    /// </summary>
    public const int MaxFields = 12 * (WeekLimits.TotalStints + WeekLimits.Zones) + 100;

    private static readonly IReadOnlyList<string> Methods = [HttpMethods.Put, HttpMethods.Delete];

    public static void Use(WebApplication app) => app.Use(async (http, next) =>
    {
        if (FormPost.IsForm(http))
        {
            if (!FormPost.IsInUtf8(http))
            {
                await http.Reply(Refused.With(415, "A form must be in UTF-8."));
                return;
            }
            var most = FormPost.IsMultipart(http) ? MaxMultipartBytes : MaxBytes;
            if (!(http.Request.ContentLength <= most))
            {
                await http.Reply(Refused.With(413, $"A form may have {most:N0} bytes, and must state its length."));
                return;
            }
            var asked = http.Request.Query[Query].ToString();
            if (HttpMethods.IsPost(http.Request.Method)
                && Methods.FirstOrDefault(method => HttpMethods.Equals(method, asked.ToUpperInvariant())) is { } other)
                http.Request.Method = other;
        }
        await FormRefusals.Run(http, next);
    });
}
