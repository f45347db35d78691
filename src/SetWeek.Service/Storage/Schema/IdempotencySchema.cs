namespace SetWeek.Service.Storage.Schema;

/// <summary>The table that keeps the answer to each idempotency key.</summary>
internal static class IdempotencySchema
{
    public const string Sql = """
        create table if not exists setweek.remembered (
            tenant_id text not null, person text not null, route text not null, key text not null,
            at timestamptz not null, body_hash bytea not null,
            status int, headers jsonb, content bytea,
            primary key (tenant_id, person, route, key));
        create index if not exists remembered_at on setweek.remembered (at);
        """;
}
