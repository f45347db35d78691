using Weasel.Core;
using Weasel.Core.Migrations;
using Weasel.Postgresql;
using Weasel.Postgresql.Tables;

namespace SetWeek.Service.Storage.Schema;

/// <summary>The places of followers, and the figures and questions of weeks that they keep.</summary>
internal sealed class FollowerSchema(string schema, Migrator migrator) : FeatureSchemaBase("follower", migrator)
{
    protected override IEnumerable<ISchemaObject> schemaObjects()
    {
        var follower = new Table(Named("follower")) { PrimaryKeyName = "follower_pkey" };
        follower.AddColumn("name", "text").NotNull().AsPrimaryKey();
        follower.AddColumn("tenant_id", "text").NotNull().AsPrimaryKey();
        follower.AddColumn("place", "bigint").NotNull();
        yield return follower;

        var figures = new Table(Named("figures")) { PrimaryKeyName = "figures_pkey" };
        figures.AddColumn("tenant_id", "text").NotNull().AsPrimaryKey();
        figures.AddColumn("week", "text").NotNull().AsPrimaryKey();
        // The version of the week's stream that the figures are of.
        figures.AddColumn("version", "bigint").NotNull();
        figures.AddColumn("figures", "jsonb").NotNull();
        yield return figures;

        var question = new Table(Named("question")) { PrimaryKeyName = "question_pkey" };
        question.AddColumn("tenant_id", "text").NotNull().AsPrimaryKey();
        question.AddColumn("week", "text").NotNull().AsPrimaryKey();
        question.AddColumn("id", "text").NotNull().AsPrimaryKey();
        question.AddColumn("version", "bigint").NotNull();
        // Sorts by the time of asking.
        question.AddColumn("key", "text").NotNull();
        question.AddColumn("store", "text").NotNull();
        question.AddColumn("direction", "text").NotNull();
        question.AddColumn("meant_for", "text").NotNull();
        question.AddColumn("answered", "boolean").NotNull();
        question.AddColumn("to_all", "boolean").NotNull();
        question.AddColumn("question", "jsonb").NotNull();
        question.Indexes.Add(new IndexDefinition("question_key") { Columns = ["tenant_id", "key"] });
        yield return question;
    }

    private PostgresqlObjectName Named(string name) => new(schema, name, SchemaUtils.IdentifierUsage.General);
}
