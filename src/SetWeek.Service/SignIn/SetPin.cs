using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.SignIn;

/// <summary>Sets the PIN of a person whose lead has allowed it. It signs nobody in.</summary>
internal static class SetPin
{
    private sealed record Body(string Person, string Pin);

    public static Operation Operation { get; } = new("POST", $"{ReadPhone.Path}/pin", "setPin", "Sets a person's PIN on an enrolled phone")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        IsOpen = true,
        Tag = SessionEndpoints.Tag,
        Body = new(typeof(Body), """{"person": "c1", "pin": "4821"}"""),
        Replies = [new(204, "It is set"), new(303, "The same, for a browser: the phone's page follows")],
        Refusals = [400, 403],
    };

    public static async Task<Answer> Run(HttpContext http)
    {
        var read = await PhonePost.Read(http, json => new Body(json.Id("person"), PhonePost.ReadPin(json)));
        if (read.TryPickT1(out var refusal, out var body)) return refusal;
        if ((await PhonePost.Person(http, body.Person)).TryPickT1(out refusal, out var place)) return refusal;
        if (!await http.RequestServices.GetRequiredService<Pins>().Set(place.Phone, body.Person, body.Pin, http.RequestAborted))
            return Refused.With(403, "A PIN is chosen with the lead present. Ask the lead to allow it, then choose it within ten minutes.",
                "pin-not-allowed");
        return http.WantsPage() ? Answer.SeeOther(ReadPhone.Path) : Answer.NoContent;
    }
}
