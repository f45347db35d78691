using System.Text.Json;
using Marten;
using Npgsql;
using NpgsqlTypes;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Json;

namespace SetWeek.Service.Questions;

/// <summary>A question in the list of the chain. Its texts are notes.</summary>
/// <param name="TimeZone">Of the store. Null in rows that an older release has kept, as what follows it.</param>
/// <param name="Display">The display that it is about; null if it is about the whole week.</param>
/// <param name="About">The name of the task or display that it is about.</param>
/// <param name="Answer">The answer that stands.</param>
public sealed record StoredQuestion(
    string Week, string Store, string Direction, QuestionAsked Asked, bool IsAnswered, bool ToAll,
    string? TimeZone = null, string? Display = null, string? About = null, QuestionAnswered? Answer = null)
{
    public static StoredQuestion Of(StoreWeek week, WeekQuestion question)
    {
        var task = week.Week.Tasks.FirstOrDefault(known => known.Id == question.Asked.Task);
        var display = week.Week.Displays.FirstOrDefault(known => known.Id == (question.Asked.Display ?? task?.Display));
        return new StoredQuestion(week.Id, week.Week.Store.Id, week.Direction, question.Asked, question.IsAnswered,
            question.ToAll, week.Week.Store.TimeZone, display?.Id, task?.Name ?? display?.Name, question.Answer);
    }

    /// <summary>Which questions are listed; null selects all.</summary>
    /// <param name="Stores">The stores that the caller reaches; null for all.</param>
    public sealed record Filter(
        string? Direction = null, string? Store = null, Addressee? For = null, bool? IsAnswered = null, bool? ToAll = null,
        IReadOnlyList<string>? Stores = null);

    /// <summary>The questions of the session's chain in the order in which they were asked.</summary>
    /// <param name="after">The key of the last one before; empty for the first page.</param>
    public static async Task<IReadOnlyList<(StoredQuestion Question, string Key)>> Read(
        IQuerySession session, Filter filter, string after, int limit, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand("""
            select question, key from setweek.question
            where tenant_id = @tenant and key > @after
              and (@direction is null or direction = @direction) and (@store is null or store = @store)
              and (@stores is null or store = any (@stores)) and (@meant is null or meant_for = @meant)
              and (@answered is null or answered = @answered) and (@all is null or to_all = @all)
            order by key limit @limit
            """);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("after", after);
        read.Parameters.AddWithValue("limit", limit);
        Add("direction", NpgsqlDbType.Text, filter.Direction);
        Add("store", NpgsqlDbType.Text, filter.Store);
        Add("stores", NpgsqlDbType.Array | NpgsqlDbType.Text, filter.Stores?.ToArray());
        Add("meant", NpgsqlDbType.Text, filter.For?.ToString());
        Add("answered", NpgsqlDbType.Boolean, filter.IsAnswered);
        Add("all", NpgsqlDbType.Boolean, filter.ToAll);
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        var found = new List<(StoredQuestion, string)>();
        while (await rows.ReadAsync(cancelled))
            found.Add((JsonSerializer.Deserialize<StoredQuestion>(rows.GetString(0), JsonFormat.Options)!, rows.GetString(1)));
        return found;

        void Add(string name, NpgsqlDbType type, object? value) =>
            read.Parameters.AddWithValue(name, type, value ?? DBNull.Value);
    }

    /// <summary>Stores the row at the session's commit, unless a newer one is known.</summary>
    /// <param name="version">The version of the week that it was read from.</param>
    public void Write(IDocumentSession session, long version) => session.QueueSqlCommand("""
        insert into setweek.question as known
          (tenant_id, week, id, version, key, store, direction, meant_for, answered, to_all, question)
        values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?::jsonb)
        on conflict (tenant_id, week, id) do update
          set version = excluded.version, answered = excluded.answered, to_all = excluded.to_all, question = excluded.question
          where excluded.version > known.version
        """, session.TenantId, Week, Asked.Question, version, Key, Store, Direction, Asked.For.ToString(), IsAnswered, ToAll,
        JsonSerializer.Serialize(this, JsonFormat.Options));

    /// <summary>Sorts by the time of asking (microseconds, 16 digits); the rest makes it unique.</summary>
    private string Key => FormattableString.Invariant(
        $"{Math.Max(0, Asked.At.ToInstant().ToUnixTimeTicks() / 10):D16} {Week} {Asked.Question}");
}
