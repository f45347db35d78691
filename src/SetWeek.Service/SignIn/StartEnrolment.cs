using Marten;
using QRCoder;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Stores;
using SetWeek.Service.Storage;

namespace SetWeek.Service.SignIn;

/// <summary>Makes a code with which one phone is enrolled for a store.</summary>
internal static class StartEnrolment
{
    private sealed record Body(string Name);

    /// <param name="Address">What the QR code says: the phone opens it in its browser.</param>
    /// <param name="Qr">The QR code, as SVG.</param>
    public sealed record Started(string Code, DateTimeOffset Until, string Address, string Qr);

    public static Operation Operation { get; } =
        new("POST", "/stores/{id}/phones", "startEnrolment", "Makes a code that enrols one phone for the store")
        {
            MayUse = new Permission(AccessScope.Store, Role.Lead),
            Tag = SessionEndpoints.Tag,
            Body = new(typeof(Body), """{"name": "Phone 1"}"""),
            Replies =
            [
                new(201, "The code, which works once and for ten minutes", typeof(Started)),
                Reply.Page("The same as a page (Accept: text/html)"),
            ],
        };

    public static Task<Answer> Run(HttpContext http, Request request) =>
        request.Read(json => new Body(json.Text("name", 60))).Match(async body =>
        {
            var services = http.RequestServices;
            await using var session = services.GetRequiredService<IDocumentStore>().QuerySession(request.Caller.Tenant);
            if ((await Streams.Store(session, request.Id, request.Cancelled)).State is not { } store)
                return Refused.Missing("store", request.Id);
            var (code, until) = await services.GetRequiredService<Phones>()
                .MakeCode(request.Caller, request.Id, body.Name, request.Cancelled);
            var address = $"{services.GetRequiredService<BrowserAddress>().First}{ReadPhone.Path}?code={code}";
            var started = new Started($"{code[..4]}-{code[4..]}", until, address, QrOf(address));
            return request.WantsPage
                ? await request.Page<EnrolmentPage, EnrolmentPage.Enrolment>(
                    new(store, body.Name, started.Code, until, address, started.Qr))
                : Answer.Created($"/stores/{request.Id}/phones", started);
        }, faults => Task.FromResult(Refused.For(faults)));

    private static string QrOf(string text)
    {
        using var data = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.M);
        using var code = new SvgQRCode(data);
        return code.GetGraphic(6);
    }
}
