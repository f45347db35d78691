using Npgsql;

namespace SetWeek.Bench.Serving;

/// <summary>
/// Copies of an opened week with its store, its published plan and all its documents, as rows of the database: to plan and publish
/// hundreds of weeks would take longer than what is measured.
/// </summary>
internal static class WeekCopies
{
    /// <param name="week">The id of the week and of its store; no other id contains it.</param>
    /// <param name="plan">The id of its published plan.</param>
    /// <param name="copies">The ids of the copies, each as long as that of the week.</param>
    public static async Task Make(NpgsqlDataSource database, string week, string plan, string[] copies)
    {
        var documents = new List<string>();
        await using (var find = database.CreateCommand(
            "select tablename from pg_tables where schemaname = 'setweek' and tablename like 'mt\\_doc\\_%' order by 1"))
        await using (var rows = await find.ExecuteReaderAsync())
            while (await rows.ReadAsync()) documents.Add(rows.GetString(0));
        foreach (var table in documents) await Copy(table, "one.id", "'{}'");
        await Copy("mt_streams", "one.id", "'{}'");
        await Copy("mt_events", "one.seq_id",
            "jsonb_build_object('seq_id', nextval('setweek.mt_events_sequence'), 'id', gen_random_uuid())");

        async Task Copy(string table, string order, string renewed)
        {
            await using var copy = database.CreateCommand($"""
                insert into setweek.{table}
                select made.* from (
                    select to_jsonb(one) as row, copy.week from setweek.{table} one cross join unnest(@copies) as copy (week)
                    where strpos(to_jsonb(one)::text, @week) > 0 order by copy.week, {order}) found,
                  jsonb_populate_record(null::setweek.{table}, replace(replace(row::text, @week, found.week),
                    @plan, md5(@plan || found.week))::jsonb || {renewed}::jsonb) made
                """);
            copy.Parameters.AddWithValue("week", week);
            copy.Parameters.AddWithValue("plan", plan);
            copy.Parameters.AddWithValue("copies", copies);
            await copy.ExecuteNonQueryAsync();
        }
    }
}
