using Marten;
using Npgsql;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Engineers;

namespace SetWeek.Service.Following;

public sealed class ReadFollowers : IQuery
{
    public sealed record View(string Chain, IReadOnlyList<FollowerView> Followers);

    /// <param name="Running">Whether a node holds the follower's lock.</param>
    /// <param name="Behind">Events that it has not followed yet.</param>
    /// <param name="LagMilliseconds">The age of the oldest of them; 0 if there is none.</param>
    public sealed record FollowerView(string Name, bool Running, long Place, long Behind, long LagMilliseconds);

    public static Operation Operation =>
        new("GET", "/followers", "readFollowers", "Reads how far what follows the chain's events is behind them")
        {
            MayUse = new Permission(AccessScope.Chain, Role.Engineer),
            Replies =
            [
                new(200, "Each follower with its place in the feed and its lag, as JSON or as a page (Accept: text/html)",
                    typeof(View)),
                Reply.Page("The same as a page, on which the figures can be computed again"),
            ],
        };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        await using var read = new NpgsqlCommand("""
            select f.name,
              exists (select from pg_locks l where l.locktype = 'advisory' and l.granted and l.objsubid = 1
                and l.database = (select oid from pg_database where datname = current_database())
                and (l.classid::bigint << 32 | l.objid::bigint) = hashtextextended('setweek.follower.' || f.name, 0)),
              f.place,
              (select count(*) from setweek.feed e where e.tenant_id = f.tenant_id and (e.place > f.place or e.place is null)),
              coalesce((select (extract(epoch from clock_timestamp() - min(m.timestamp)) * 1000)::bigint
                from setweek.mt_events m join (
                  (select seq_id from setweek.feed where tenant_id = f.tenant_id and place > f.place order by place limit 1)
                  union all
                  (select seq_id from setweek.feed where tenant_id = f.tenant_id and place is null order by seq_id limit 1)
                ) oldest using (seq_id)), 0)
            from setweek.follower f where f.tenant_id = @tenant order by f.name
            """);
        read.Parameters.AddWithValue("tenant", request.Caller.Tenant);
        var followers = new List<FollowerView>();
        await using var rows = await session.ExecuteReaderAsync(read, request.Cancelled);
        while (await rows.ReadAsync(request.Cancelled))
            followers.Add(new FollowerView(rows.GetString(0), rows.GetBoolean(1), rows.GetInt64(2), rows.GetInt64(3),
                Math.Max(rows.GetInt64(4), 0)));
        return request.WantsPage
            ? await request.Page<FollowersPage, FollowersPage.Content>(new(request.Caller.Tenant,
                [.. followers.Select(follower => new FollowersPage.Follower(
                    follower.Name, follower.Running, follower.Place, follower.Behind, Age(follower.LagMilliseconds)))],
                request.FormToken()))
            : Answer.Ok(new View(request.Caller.Tenant, followers));
    }

    private static string Age(long milliseconds) => milliseconds switch
    {
        < 1_000 => $"{milliseconds} ms",
        < 120_000 => $"{milliseconds / 1_000} s",
        _ => $"{milliseconds / 60_000} min",
    };
}
