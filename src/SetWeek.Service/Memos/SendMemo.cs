using Marten;
using SetWeek.Domain.Memos;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Memos;

public sealed class SendMemo : ICommand
{
    private const int LongestText = 2000, MostStores = 5000;

    /// <param name="Stores">Only to these; to every store of the direction unless given.</param>
    private sealed record Body(string Direction, string Text, bool? Safety, IReadOnlyList<string>? Stores);

    public sealed record Sent(string Id);

    public static Operation Operation => new("POST", "/memos", "sendMemo", "Sends a short text to the stores of a direction")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
        Body = new(typeof(Body), """
            {"direction": "first-rain", "text": "The canopy's lower hook is weak. Hang nothing from it before the new one comes.",
             "safety": true, "stores": ["harbour-street"]}
            """),
        Replies = [new(201, "The memo is stored; every week that it is for shows it", typeof(Sent))],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(Read).TryPickT1(out var faults, out var body)) return Refused.For(faults);
        if ((await Streams.Direction(session, body.Direction, request.Cancelled)).State is null)
            return Refused.For(new FaultReport([new Fault("/direction", $"There is no direction \"{body.Direction}\".")]), 422);
        var known = await StreamNames.OfStores(session, body.Stores ?? [], request.Cancelled);
        var unknown = (body.Stores ?? []).Index()
            .Where(store => !known.ContainsKey(store.Item) || !request.Caller.MayAccess(store.Item))
            .Select(store => new Fault($"/stores/{store.Index}", $"There is no store \"{store.Item}\".")).ToList();
        if (unknown.Count > 0) return Refused.For(new FaultReport(unknown), 422);
        var memo = new Memo
        {
            Id = request.PlanIds.Next(request.Now), Direction = body.Direction, IsSafety = body.Safety == true,
            By = request.Caller.Person, At = request.Now,
            Stores = body.Stores is { Count: > 0 } some ? some
                : request.Caller.Stores.Contains(Caller.AnyStore) ? null : request.Caller.Stores,
        };
        session.Store(memo);
        session.Store(new Note(Memo.TextIdOf(memo.Id), body.Text));
        return Answer.Created($"/memos/{memo.Id}", new Sent(memo.Id));
    }

    private static Body Read(JsonFields json) => new(json.Id("direction"), json.Text("text", LongestText), json.Flag("safety"),
        json.OptionalList("stores", store => store.Id(), MostStores));
}
