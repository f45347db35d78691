using Marten;
using Npgsql;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.SignIn;

public sealed class ListPhones : IQuery
{
    public sealed record View(IReadOnlyList<PhoneView> Phones);

    /// <param name="SignedIn">How many sessions are open on it.</param>
    public sealed record PhoneView(string Id, string Name, string EnrolledBy, DateTimeOffset Enrolled, long SignedIn);

    public static Operation Operation => new("GET", "/stores/{id}/phones", "listPhones", "Lists the enrolled phones of the store")
    {
        MayUse = new Permission(AccessScope.Store, Role.Lead),
        Replies = [new(200, "The phones, the first enrolled first", typeof(View))],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        await using var read = new NpgsqlCommand("""
            select id, name, enrolled_by, enrolled,
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
                rows.GetFieldValue<DateTimeOffset>(3), rows.GetInt64(4)));
        return Answer.Ok(new View(phones));
    }
}
