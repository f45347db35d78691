using SetWeek.Model.Weeks;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Forms;
using SetWeek.Service.Pictures;

namespace SetWeek.Service.Http;

/// <summary>
/// What is done with a form before routing: a form can only GET and POST, so its address names another method: "?form-method=put".
/// </summary>
public static class FormMethods
{
    public const string Query = "form-method";

    /// <summary>The largest form in bytes; forms of pages have some dozens of short fields.</summary>
    public const int MaxBytes = 1024 * 1024;

    /// <summary>The largest form with a photograph: the photograph and its fields.</summary>
    public const int MaxMultipartBytes = Picture.MaxBytes + MaxBytes;

    /// <summary>
    /// The most fields of a form, as the two largest need. The form of a task has three for each precedence; for each mode its
    /// minutes, three for each role and two for each kind of equipment; and three for each kit that is needed. Each list has an
    /// empty row besides. The count of a kit has five for each line. Some dozens are added for the fields that a form has once.
    /// </summary>
    public const int MaxFields = FieldsOfTask > FieldsOfCount ? FieldsOfTask : FieldsOfCount;

    private const int FieldsOnce = 100, FieldsOfCount = 5 * WeekLimits.KitLines + FieldsOnce,
        FieldsOfTask = 3 * (WeekLimits.Precedences + 1) + WeekLimits.Modes * (1 + 5 * (WeekLimits.SkillRequirements + 1))
            + 3 * (WeekLimits.KitRequirements + 1) + FieldsOnce;

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
