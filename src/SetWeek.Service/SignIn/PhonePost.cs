using OneOf;
using SetWeek.Model.Json;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.SignIn;

/// <summary>What an enrolled phone sends while nobody is signed in on it.</summary>
internal static class PhonePost
{
    public static async Task<OneOf<T, Answer>> Read<T>(HttpContext http, Func<JsonFields, T> read)
    {
        // The token is first: a refused form is shown again with what it says, and another site can fill in one without a token.
        if (!await FormToken.IsGiven(http)) return Refused.WithoutFormToken;
        if ((await RequestReader.ReadBodyOrForm(http)).TryPickT1(out var refusal, out var bytes)) return refusal;
        return JsonCursor.Read(bytes, root => root.Object(read)).MapT1(faults => Refused.For(faults));
    }

    /// <summary>The phone and the open night in which the person signs in.</summary>
    public static async Task<OneOf<(Phone Phone, OpenNight Night), Answer>> Person(HttpContext http, string person)
    {
        if (await http.RequestServices.GetRequiredService<Phones>().Of(http) is not { } phone)
            return Refused.With(403, "This phone is not enrolled. Ask the lead of the store for a code.", "no-phone");
        if (await ReadPhone.NightOf(http, phone) is not { } night)
            return Refused.With(403, "No night of this store is open, so that nobody signs in here now.", "no-open-night");
        return night.People.Any(member => member.Id == person) ? (phone, night)
            : Refused.With(403, "This person is not expected in this night. Ask the lead.", "not-tonight");
    }

    public static string ReadPin(JsonFields json)
    {
        var pin = json.Text("pin", 100);
        if (pin != "" && !Pins.IsPin(pin)) json.AddFault("pin", $"Give {Pins.Shortest} to {Pins.Longest} figures.");
        return pin;
    }
}
