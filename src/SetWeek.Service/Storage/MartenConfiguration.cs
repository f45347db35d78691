using JasperFx.Events;
using JasperFx.MultiTenancy;
using Marten;
using Npgsql;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Kits;
using SetWeek.Domain.Memos;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Json;
using SetWeek.Service.Storage.Schema;
using Weasel.Core;

namespace SetWeek.Service.Storage;

/// <summary>
/// The configuration of the event store and the documents. A tenant is a chain and sees only its own data. Stream ids are text.
/// </summary>
public static class MartenConfiguration
{
    public const string SchemaName = "setweek";

    public static void Configure(StoreOptions options, NpgsqlDataSource postgres)
    {
        options.Connection(postgres);
        options.DatabaseSchemaName = SchemaName;
        options.UseSystemTextJsonForSerialization(EnumStorage.AsString, Casing.CamelCase, json =>
        {
            JsonFormat.Configure(json);
            StoredPlanFormat.Configure(json);
        });
        options.Policies.AllDocumentsAreMultiTenanted();

        options.Events.StreamIdentity = StreamIdentity.AsString;
        options.Events.TenancyStyle = TenancyStyle.Conjoined;
        // Quick append numbers, stamps and inserts in one statement, so a conflicting append leaves no tombstone event. The
        // exclusive lock makes concurrent appends to a stream wait for each other instead of failing at the end.
        options.Events.AppendMode = EventAppendMode.QuickWithServerTimestamps;
        options.Events.UseExclusiveLockOnConcurrentAppends = true;
        options.Events.MetadataConfig.EnableAll();
        options.Events.MetadataConfig.UserNameEnabled = true;
        StoredEvents.Map(options.Events, StoredEvents.Names, StoredEvents.Older);

        options.Storage.Add(new IdempotencySchema(SchemaName, options.Advanced.Migrator));
        options.Storage.Add(new SolveSchema(SchemaName, options.Advanced.Migrator));
        options.Storage.Add(new FeedSchema(SchemaName, options.Advanced.Migrator));
        options.Storage.Add(new FollowerSchema(SchemaName, options.Advanced.Migrator));
        options.Storage.Add(new PhotoSchema(SchemaName, options.Advanced.Migrator));
        options.Storage.Add(new WebhookSchema(SchemaName, options.Advanced.Migrator));
        options.Storage.Add(new CalendarSchema(SchemaName, options.Advanced.Migrator));
        options.Storage.Add(new SessionSchema(SchemaName, options.Advanced.Migrator));
        options.Schema.For<WeekPlace>();
        options.Schema.For<CrewFile>();
        options.Schema.For<Note>();
        // Two people of head office may take it back at once. The first to commit wins.
        options.Schema.For<Memo>().UseOptimisticConcurrency(true).Duplicate(memo => memo.Direction);
        // The search for its weeks and its cancellation may be concurrent. The first to commit wins.
        options.Schema.For<KitDelay>().UseOptimisticConcurrency(true);
        // A step of a batch and its cancellation may be concurrent. The first to commit wins.
        options.Schema.For<KitDelayWeek>().UseOptimisticConcurrency(true).Duplicate(item => item.Batch);
        // The end of a search and its cancellation may be concurrent. The first to commit wins.
        options.Schema.For<CandidatePlan>().UseOptimisticConcurrency(true).Duplicate(plan => plan.Week);
    }
}
