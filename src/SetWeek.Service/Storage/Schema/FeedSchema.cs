namespace SetWeek.Service.Storage.Schema;

/// <summary>The table, functions and trigger that give each event its place in the feed.</summary>
internal static class FeedSchema
{
    public const string Sql = """
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
}
