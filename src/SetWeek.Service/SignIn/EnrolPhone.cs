using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.SignIn;

/// <summary>Enrols the phone that sends the lead's code.</summary>
internal static class EnrolPhone
{
    private sealed record Body(string Code);

    public static Operation Operation { get; } = new("POST", $"{ReadPhone.Path}/enrolment", "enrolPhone",
        "Enrols this phone by a code")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        IsOpen = true,
        Tag = SessionEndpoints.Tag,
        Body = new(typeof(Body), """{"code": "K7QM-4RXT"}"""),
        Replies = [new(204, "It is enrolled, and its cookie is set"), new(303, "The same, for a browser: its page follows")],
        Refusals = [400, 403],
    };

    public static async Task<Answer> Run(HttpContext http) =>
        await (await PhonePost.Read(http, json => new Body(json.Text("code", 100)))).Match(
        async body => !await http.RequestServices.GetRequiredService<Phones>().Enrol(http, body.Code)
            ? Refused.With(403,
                "This code enrols no phone: it is mistyped, used or older than ten minutes. Ask the lead for a new one.",
                "no-code")
            : http.WantsPage() ? Answer.SeeOther(ReadPhone.Path) : Answer.NoContent,
        Task.FromResult);
}
