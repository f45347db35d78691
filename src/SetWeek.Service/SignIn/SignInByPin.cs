using System.Security.Cryptography;
using NodaTime;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Clocks;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.SignIn;

/// <summary>Signs a person in on an enrolled phone for the rest of the open night, as crew of its store.</summary>
internal static class SignInByPin
{
    private sealed record Body(string Person, string Pin);

    public static Operation Operation { get; } =
        new("POST", $"{ReadPhone.Path}/session", "signInByPin", "Signs a person in on an enrolled phone by their PIN")
        {
            MayUse = Permission.Everybody(AccessScope.Chain),
            IsOpen = true,
            Tag = SessionEndpoints.Tag,
            Body = new(typeof(Body), """{"person": "c1", "pin": "4821"}"""),
            Replies = [new(204, "The session is open, and its cookie is set"), new(303, "The same, for a browser: the start follows")],
            Refusals = [400, 403],
        };

    public static async Task<Answer> Run(HttpContext http)
    {
        var read = await PhonePost.Read(http, json => new Body(json.Id("person"), PhonePost.ReadPin(json)));
        if (read.TryPickT1(out var refusal, out var body)) return refusal;
        if ((await PhonePost.Person(http, body.Person)).TryPickT1(out refusal, out var place)) return refusal;
        var services = http.RequestServices;
        var verdict = await services.GetRequiredService<Pins>().Try(place.Phone, body.Person, body.Pin, http.RequestAborted);
        if (verdict != PinVerdict.Right) return Refuse(verdict);
        var left = place.Night.Until - services.GetRequiredService<PlanningClock>().Now;
        await SessionCookie.Open(http, new Caller(place.Phone.Tenant, body.Person, Role.Crew, [place.Phone.Store]),
            RandomNumberGenerator.GetHexString(32, lowercase: true), Duration.Max(left, Duration.Zero).ToTimeSpan(), place.Phone.Id);
        await services.GetRequiredService<Phones>().MarkSignIn(place.Phone, http.RequestAborted);
        return http.WantsPage() ? Answer.SeeOther(SessionEndpoints.Start) : Answer.NoContent;
    }

    private static Answer Refuse(PinVerdict verdict) => verdict switch
    {
        PinVerdict.Closed => Refused.With(403, $"Five wrong PINs: this name is closed for {Pins.ClosedFor.TotalMinutes:0} minutes. "
            + "The lead can record for you.", "name-closed"),
        PinVerdict.None => Refused.With(403, "This person has no PIN yet. Ask the lead to allow one.", "no-pin"),
        PinVerdict.Wrong or PinVerdict.Right => Refused.With(403, "This is not the PIN of that name. Try again.", "wrong-pin"),
    };
}
