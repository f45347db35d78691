using JasperFx.Events;
using Weasel.Core;
using Weasel.Core.Migrations;
using Weasel.Postgresql;
using Weasel.Postgresql.Functions;
using Weasel.Postgresql.Tables;

namespace SetWeek.Service.Storage.Schema;

/// <summary>
/// The tables, functions and trigger that give each event its place in the feed of its chain (docs/decisions/feed.md).
/// </summary>
internal sealed class FeedSchema(string schema, Migrator migrator) : FeatureSchemaBase("feed", migrator)
{
    /// <summary>The trigger belongs to the event table, which must therefore be created first.</summary>
    public override IEnumerable<Type> DependentTypes() => [typeof(IEvent)];

    protected override IEnumerable<ISchemaObject> schemaObjects()
    {
        var table = new Table(Named("feed")) { PrimaryKeyName = "feed_pkey" };
        table.AddColumn("tenant_id", "text").NotNull().AsPrimaryKey();
        table.AddColumn("seq_id", "bigint").NotNull().AsPrimaryKey();
        // Null until the event has been seen committed.
        table.AddColumn("place", "bigint");
        table.Indexes.Add(new IndexDefinition("feed_place")
        {
            Columns = ["tenant_id", "place"], IsUnique = true, Predicate = "place is not null",
        });
        table.Indexes.Add(new IndexDefinition("feed_waiting") { Columns = ["tenant_id", "seq_id"], Predicate = "place is null" });
        yield return table;

        // The last place of each chain. Followers compare it with their own, so one query finds the chains with something new.
        var head = new Table(Named("feed_head")) { PrimaryKeyName = "feed_head_pkey" };
        head.AddColumn("tenant_id", "text").NotNull().AsPrimaryKey();
        head.AddColumn("place", "bigint").NotNull();
        yield return head;

        // The headers are written as PostgreSQL prints them, so that the schema comparison finds no difference.
        yield return new Function(Named("feed_wait"), $"""
            CREATE OR REPLACE FUNCTION {schema}.feed_wait()
             RETURNS trigger
             LANGUAGE plpgsql
            AS $function$
            begin
                insert into {schema}.feed (tenant_id, seq_id) values (new.tenant_id, new.seq_id);
                return null;
            end $function$;
            """);

        yield return new Function(Named("feed_give_places"), $"""
            CREATE OR REPLACE FUNCTION {schema}.feed_give_places(chain text)
             RETURNS void
             LANGUAGE plpgsql
            AS $function$
            begin
                if not exists (select from {schema}.feed where tenant_id = chain and place is null) then return; end if;
                perform pg_advisory_xact_lock(hashtextextended('{schema}.feed.' || chain, 0));
                -- A new statement, and so a snapshot taken after the lock: it sees every place given so far.
                with waiting as (
                    select seq_id, row_number() over (order by seq_id) as n
                    from {schema}.feed where tenant_id = chain and place is null),
                taken as (select coalesce(max(place), 0) as last from {schema}.feed where tenant_id = chain and place is not null),
                given as (
                    update {schema}.feed as f set place = taken.last + waiting.n
                    from waiting, taken where f.tenant_id = chain and f.seq_id = waiting.seq_id returning f.place)
                insert into {schema}.feed_head (tenant_id, place)
                select chain, max(place) from given having max(place) is not null
                on conflict (tenant_id) do update set place = excluded.place;
            end $function$;
            """);

        yield return new FeedTrigger(Named("feed_wait"), Named("mt_events"), Named("feed"), Named("feed_head"));
    }

    private PostgresqlObjectName Named(string name) => new(schema, name, SchemaUtils.IdentifierUsage.General);
}
