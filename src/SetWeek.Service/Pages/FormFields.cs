namespace SetWeek.Service.Pages;

/// <summary>
/// Names of form fields that the service knows. Those that belong to the request and not to its body begin with a colon.
/// </summary>
public static class FormFields
{
    /// <summary>The page to show after the form has been accepted.</summary>
    public const string Then = ":then";

    /// <summary>
    /// The page with the form. If the form is refused, it is shown again with what was typed and what is wrong.
    /// </summary>
    public const string From = ":from";

    /// <summary>Which form of the page it is, where several are sent to one address.</summary>
    public const string Form = ":form";

    /// <summary>The If-Match header and the Idempotency-Key header, which a form cannot send.</summary>
    public const string IfMatch = ":if-match", IdempotencyKey = ":key";

    /// <summary>
    /// From when on the form's times of day count, and the zone: "2027-03-08T16:00 Europe/London". A field of the kind "now" may
    /// then say "00:10".
    /// </summary>
    public const string Night = ":night";

    /// <summary>
    /// The whole body as JSON, typed into the form or chosen as a file. It is sent as it is, in place of what the other fields
    /// say.
    /// </summary>
    public const string Body = ":body";

    /// <summary>A skill that no list offers. The field of its level is named by it: "skills.{:skill}:number".</summary>
    public const string Skill = ":skill";

    /// <summary>What the page said that the form decides about, in words.</summary>
    public const string Seen = ":seen";

    /// <summary>Any text as a level of a field's name, where dots are between levels.</summary>
    public static string Level(string text) => Uri.EscapeDataString(text).Replace(".", "%2E", StringComparison.Ordinal);

    /// <summary>The id of the form's photograph, whose file field is named "photos:photo".</summary>
    public const string Photo = ":photo";

    /// <summary>A person's PIN. It is a member of the body, and no page shows it again.</summary>
    public const string Pin = "pin";
}
