using Marten;
using Npgsql;

namespace SetWeek.Service.Feed;

/// <summary>
/// Where each event stands in its chain's feed. An event gets its place when it is first seen committed, not when it is
/// written: a place once given is never filled later, however long a transaction with a lower number stays open
/// (docs/decisions/feed.md).
/// </summary>
public static class FeedOrder
{
    public const string Schema = """
        create table if not exists setweek.feed (
            tenant_id text not null, seq_id bigint not null, place bigint,
            primary key (tenant_id, seq_id));
        create unique index if not exists feed_place on setweek.feed (tenant_id, place) where place is not null;
        create index if not exists feed_waiting on setweek.feed (tenant_id, seq_id) where place is null;

        create or replace function setweek.feed_wait() returns trigger language plpgsql as $body$
        begin
            insert into setweek.feed (tenant_id, seq_id) values (new.tenant_id, new.seq_id);
            return null;
        end $body$;

        create or replace function setweek.feed_give_places(chain text) returns void language plpgsql as $body$
        begin
            if not exists (select from setweek.feed where tenant_id = chain and place is null) then return; end if;
            perform pg_advisory_xact_lock(hashtextextended('setweek.feed.' || chain, 0));
            -- A new statement, and so a snapshot taken after the lock: it sees every place given so far.
            with waiting as (
                select seq_id, row_number() over (order by seq_id) as n
                from setweek.feed where tenant_id = chain and place is null),
            taken as (select coalesce(max(place), 0) as last from setweek.feed where tenant_id = chain and place is not null)
            update setweek.feed as f set place = taken.last + waiting.n
            from waiting, taken where f.tenant_id = chain and f.seq_id = waiting.seq_id;
        end $body$;

        do $body$
        begin
            if not exists (select from pg_trigger where tgname = 'feed_wait' and tgrelid = 'setweek.mt_events'::regclass) then
                create trigger feed_wait after insert on setweek.mt_events for each row execute function setweek.feed_wait();
                insert into setweek.feed (tenant_id, seq_id)
                select tenant_id, seq_id from setweek.mt_events on conflict do nothing;
            end if;
        end $body$;
        """;

    /// <summary>Places after the one given, in order, with the sequence number under which the event is stored.</summary>
    public static async Task<IReadOnlyList<(long Place, long Sequence)>> After(
        IQuerySession session, long place, int most, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand("""
            select setweek.feed_give_places(@tenant);
            select place, seq_id from setweek.feed where tenant_id = @tenant and place > @after order by place limit @most
            """);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("after", place);
        read.Parameters.AddWithValue("most", most);
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        await rows.NextResultAsync(cancelled);
        var found = new List<(long, long)>();
        while (await rows.ReadAsync(cancelled)) found.Add((rows.GetInt64(0), rows.GetInt64(1)));
        return found;
    }
}
