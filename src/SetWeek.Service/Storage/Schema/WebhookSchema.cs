using Weasel.Core;
using Weasel.Core.Migrations;
using Weasel.Postgresql;
using Weasel.Postgresql.Tables;

namespace SetWeek.Service.Storage.Schema;

/// <summary>
/// Webhooks, what is to be delivered to them, and how each of their lanes is doing (docs/decisions/webhooks.md). A lane is the
/// deliveries of one subject, a week for instance, to one webhook.
/// </summary>
internal sealed class WebhookSchema(string schema, Migrator migrator) : FeatureSchemaBase("webhook", migrator)
{
    protected override IEnumerable<ISchemaObject> schemaObjects()
    {
        var webhook = new Table(Named("webhook")) { PrimaryKeyName = "webhook_pkey" };
        webhook.AddColumn("tenant_id", "text").NotNull().AsPrimaryKey();
        webhook.AddColumn("id", "text").NotNull().AsPrimaryKey();
        webhook.AddColumn("url", "text").NotNull();
        webhook.AddColumn("types", "text[]");
        webhook.AddColumn("secret", "text").NotNull();
        webhook.AddColumn("previous_secret", "text");
        webhook.AddColumn("previous_until", "timestamptz");
        // Events after this place of the feed are delivered.
        webhook.AddColumn("after_place", "bigint").NotNull();
        webhook.AddColumn("created", "timestamptz").NotNull();
        yield return webhook;

        var delivery = new Table(Named("webhook_delivery")) { PrimaryKeyName = "webhook_delivery_pkey" };
        delivery.AddColumn("tenant_id", "text").NotNull().AsPrimaryKey();
        delivery.AddColumn("webhook", "text").NotNull().AsPrimaryKey();
        delivery.AddColumn("subject", "text").NotNull().AsPrimaryKey();
        delivery.AddColumn("place", "bigint").NotNull().AsPrimaryKey();
        delivery.AddColumn("seq_id", "bigint").NotNull();
        yield return delivery;

        var lane = new Table(Named("webhook_lane")) { PrimaryKeyName = "webhook_lane_pkey" };
        lane.AddColumn("tenant_id", "text").NotNull().AsPrimaryKey();
        lane.AddColumn("webhook", "text").NotNull().AsPrimaryKey();
        lane.AddColumn("subject", "text").NotNull().AsPrimaryKey();
        // When the oldest delivery is tried; while a node tries it, when another node may. Null: there is none, or it is dead.
        lane.AddColumn("due", "timestamptz");
        // These four are about the oldest delivery.
        lane.AddColumn("attempts", "int").NotNull();
        lane.AddColumn("first_tried", "timestamptz");
        lane.AddColumn("fault", "text");
        lane.AddColumn("dead", "boolean").NotNull();
        lane.Indexes.Add(new IndexDefinition("webhook_lane_due") { Columns = ["due"], Predicate = "due is not null" });
        yield return lane;
    }

    private PostgresqlObjectName Named(string name) => new(schema, name, SchemaUtils.IdentifierUsage.General);
}
