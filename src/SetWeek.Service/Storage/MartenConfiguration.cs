using JasperFx.Events;
using JasperFx.MultiTenancy;
using Marten;
using Npgsql;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Json;
using SetWeek.Service.Storage.Schema;
using Weasel.Core;

namespace SetWeek.Service.Storage;

/// <summary>
/// How events and documents are kept. Every tenant is a chain and sees its own alone; streams have ids that people can read.
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
        // One statement numbers, stamps and inserts: an append that loses a race leaves no tombstone behind. The stream's row is
        // locked while it is read, so that appends to one stream wait for each other instead of failing late.
        options.Events.AppendMode = EventAppendMode.QuickWithServerTimestamps;
        options.Events.UseExclusiveLockOnConcurrentAppends = true;
        options.Events.MetadataConfig.EnableAll();
        options.Events.MetadataConfig.UserNameEnabled = true;
        foreach (var (type, name) in StoredEvents.Names) options.Events.MapEventType(type, name);

        options.Storage.Add(new IdempotencySchema(SchemaName, options.Advanced.Migrator));
        options.Storage.Add(new FeedSchema(SchemaName, options.Advanced.Migrator));
        options.Schema.For<WeekPlace>();
        options.Schema.For<CrewFile>();
        options.Schema.For<Note>();
        // A solve that ends and a request that cancels it meet here: the first to commit wins, and the other looks again.
        options.Schema.For<CandidatePlan>().UseOptimisticConcurrency(true).Duplicate(plan => plan.Week);
    }
}
