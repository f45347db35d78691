using Marten;
using Npgsql;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Pages.Stores;
using SetWeek.Service.Storage;

namespace SetWeek.Service.SignIn;

public sealed class ListPhones : IQuery
{
    /// <param name="People">Those of the store's weeks that have not launched yet, by name.</param>
    public sealed record View(IReadOnlyList<PhoneView> Phones, IReadOnlyList<PersonView> People);

    /// <param name="SignedIn">How many sessions are open on it.</param>
    /// <param name="LastSignIn">When somebody last signed in on it; absent if nobody has.</param>
    public sealed record PhoneView(
        string Id, string Name, string EnrolledBy, DateTimeOffset Enrolled, long SignedIn, DateTimeOffset? LastSignIn);

    /// <param name="HasPin">Whether the person has chosen a PIN.</param>
    /// <param name="AllowedUntil">Until when the person may choose a PIN; absent unless a lead allows it.</param>
    public sealed record PersonView(string Id, string Name, bool HasPin, DateTimeOffset? AllowedUntil);

    public static Operation Operation => new("GET", "/stores/{id}/phones", "listPhones", "Lists the enrolled phones of the store")
    {
        MayUse = new Permission(AccessScope.Store, Role.Lead),
        Replies =
        [
            new(200, "The phones, the first enrolled first, and who may sign in on them", typeof(View)),
            Reply.Page("The same as a page"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var view = new View(await PhonesOf(request, session), await PeopleOf(request, session));
        if (!request.WantsPage) return Answer.Ok(view);
        if ((await Streams.Store(session, request.Id, request.Cancelled)).State is not { } store)
            return Refused.Missing("store", request.Id);
        return await request.Page<PhonesPage, PhonesPage.Phones>(new(store,
            [.. view.Phones.Select(phone => new PhonesPage.Phone(phone.Id, phone.Name, phone.EnrolledBy, phone.Enrolled,
                phone.SignedIn, phone.LastSignIn))],
            [.. view.People.Select(person => new PhonesPage.Person(person.Id, person.Name, person.HasPin, person.AllowedUntil))],
            request.FormToken()));
    }

    private static async Task<IReadOnlyList<PhoneView>> PhonesOf(Request request, IQuerySession session)
    {
        await using var read = new NpgsqlCommand("""
            select id, name, enrolled_by, enrolled, last_sign_in,
              (select count(*) from setweek.browser_session s where s.tenant_id = p.tenant_id and s.phone = p.id and s.until > @now)
            from setweek.phone p where tenant_id = @tenant and store = @store order by enrolled, id
            """);
        read.Parameters.AddWithValue("tenant", request.Caller.Tenant);
        read.Parameters.AddWithValue("store", request.Id);
        read.Parameters.AddWithValue("now", request.SystemTime.ToDateTimeOffset());
        await using var rows = await session.ExecuteReaderAsync(read, request.Cancelled);
        var phones = new List<PhoneView>();
        while (await rows.ReadAsync(request.Cancelled))
            phones.Add(new PhoneView(rows.GetString(0), rows.GetString(1), rows.GetString(2),
                rows.GetFieldValue<DateTimeOffset>(3), rows.GetInt64(5),
                await rows.IsDBNullAsync(4, request.Cancelled) ? null : rows.GetFieldValue<DateTimeOffset>(4)));
        return phones;
    }

    private static async Task<IReadOnlyList<PersonView>> PeopleOf(Request request, IQuerySession session)
    {
        var names = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var (id, _) in await StoreWeeks.Of(session, request.Id, request.Cancelled))
            if ((await Streams.Week(session, id, request.Cancelled)).State is { } week
                && StoreTime.InstantOf(week, week.Week.Launch) > request.Now)
                foreach (var member in (await session.CrewOf(id, request.Cancelled)).Members) names[member.Id] = member.Name;
        var (withPin, allowed) = (new HashSet<string>(StringComparer.Ordinal), new Dictionary<string, DateTimeOffset>());
        await using var read = new NpgsqlCommand("""
            select person, null::timestamptz from setweek.pin where tenant_id = @tenant and store = @store
            union all
            select person, until from setweek.pin_permission where tenant_id = @tenant and store = @store and until > @now
            """);
        read.Parameters.AddWithValue("tenant", request.Caller.Tenant);
        read.Parameters.AddWithValue("store", request.Id);
        read.Parameters.AddWithValue("now", request.SystemTime.ToDateTimeOffset());
        await using var rows = await session.ExecuteReaderAsync(read, request.Cancelled);
        while (await rows.ReadAsync(request.Cancelled))
            if (await rows.IsDBNullAsync(1, request.Cancelled)) withPin.Add(rows.GetString(0));
            else allowed[rows.GetString(0)] = rows.GetFieldValue<DateTimeOffset>(1);
        return [.. names.OrderBy(person => person.Value, StringComparer.Ordinal).Select(person => new PersonView(person.Key,
            person.Value, withPin.Contains(person.Key), allowed.TryGetValue(person.Key, out var until) ? until : null))];
    }
}
