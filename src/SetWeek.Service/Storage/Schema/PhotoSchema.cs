using Weasel.Core;
using Weasel.Core.Migrations;
using Weasel.Postgresql;
using Weasel.Postgresql.Tables;

namespace SetWeek.Service.Storage.Schema;

/// <summary>The photographs of weeks (docs/decisions/photos.md).</summary>
internal sealed class PhotoSchema(string schema, Migrator migrator) : FeatureSchemaBase("photo", migrator)
{
    protected override IEnumerable<ISchemaObject> schemaObjects()
    {
        var photo = new Table(new PostgresqlObjectName(schema, "photo", SchemaUtils.IdentifierUsage.General))
        {
            PrimaryKeyName = "photo_pkey",
        };
        photo.AddColumn("tenant_id", "text").NotNull().AsPrimaryKey();
        photo.AddColumn("week", "text").NotNull().AsPrimaryKey();
        photo.AddColumn("id", "text").NotNull().AsPrimaryKey();
        // SHA-256 of the file as it was sent: the same id with another file is refused.
        photo.AddColumn("sent_hash", "bytea").NotNull();
        photo.AddColumn("person", "text").NotNull();
        photo.AddColumn("added", "timestamptz").NotNull();
        photo.AddColumn("width", "integer").NotNull();
        photo.AddColumn("height", "integer").NotNull();
        // JPEG; null once it is erased.
        photo.AddColumn("content", "bytea");
        photo.AddColumn("thumbnail", "bytea");
        yield return photo;
    }
}
