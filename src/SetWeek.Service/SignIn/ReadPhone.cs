using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Clocks;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.SignIn;
using SetWeek.Service.Storage;

namespace SetWeek.Service.SignIn;

/// <summary>
/// Who has the phone in hand? Shows the people of the open night on an enrolled phone; on another one it asks for the lead's
/// code.
/// </summary>
internal static class ReadPhone
{
    public const string Path = "/phone";

    /// <param name="Store">Absent unless the phone is enrolled.</param>
    /// <param name="Night">Absent unless a night of the store is open.</param>
    /// <param name="FormToken">What the phone sends as X-SetWeek-Token.</param>
    public sealed record View(string? Store, string? Name, string? Night, IReadOnlyList<Person> People, string FormToken);

    /// <param name="HasPin">Whether the person has chosen a PIN. If not, their lead allows it.</param>
    public sealed record Person(string Id, string Name, bool HasPin);

    public static Operation Operation { get; } = new("GET", Path, "readPhone", "Shows who may sign in on this phone tonight")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        IsOpen = true,
        Tag = SessionEndpoints.Tag,
        Query = [new("code", "The code to fill in on the page of a phone that is not enrolled", "K7QM4RXT")],
        Replies = [new(200, "The phone, and the people of the open night", typeof(View)),
            Reply.Page("The same as a page, with forms")],
    };

    public static async Task<Answer> Run(HttpContext http)
    {
        var services = http.RequestServices;
        var phone = await services.GetRequiredService<Phones>().Of(http);
        var night = phone is null ? null : await NightOf(http, phone);
        var known = night is null ? new HashSet<string>()
            : await services.GetRequiredService<Pins>().WithPin(phone!, http.RequestAborted);
        var view = new View(phone?.Store, phone?.Name, night?.Night,
            [.. (night?.People ?? []).Select(member => new Person(member.Id, member.Name, known.Contains(member.Id)))],
            FormToken.Issue(http));
        if (!http.WantsPage()) return Answer.Ok(view);
        var choosing = night is null ? new HashSet<string>()
            : await services.GetRequiredService<Pins>().MayChoose(phone!, http.RequestAborted);
        return await http.Page<PhonePage, PhonePage.Content>(new(
            phone is null ? null : await StoreName(http, phone), night is not null,
            [.. view.People.Select(person => new PhonePage.Person(person.Id, person.Name,
                choosing.Contains(person.Id) ? PhonePage.PinEntry.Chosen
                    : person.HasPin ? PhonePage.PinEntry.Known : PhonePage.PinEntry.None))],
            view.FormToken, http.Request.Query["code"].ToString()));
    }

    private static async Task<string> StoreName(HttpContext http, Phone phone)
    {
        await using var session = http.RequestServices.GetRequiredService<IDocumentStore>().QuerySession(phone.Tenant);
        return (await Streams.Store(session, phone.Store, http.RequestAborted)).State?.Name ?? phone.Store;
    }

    internal static async Task<OpenNight?> NightOf(HttpContext http, Phone phone)
    {
        await using var session = http.RequestServices.GetRequiredService<IDocumentStore>().QuerySession(phone.Tenant);
        return await OpenNight.Of(session, phone.Store, http.RequestServices.GetRequiredService<PlanningClock>().Now,
            http.RequestAborted);
    }
}
