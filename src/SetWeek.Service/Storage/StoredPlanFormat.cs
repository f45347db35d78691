using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using SetWeek.Model.Plans;

namespace SetWeek.Service.Storage;

/// <summary>
/// The JSON format of plans in events and documents. Fields added after the first release are omitted while they have their
/// default values, so that old and new stored plans have the same form.
/// </summary>
public static class StoredPlanFormat
{
    public static void Configure(JsonSerializerOptions options) =>
        options.TypeInfoResolver = (options.TypeInfoResolver ?? new DefaultJsonTypeInfoResolver())
            .WithAddedModifier(OmitDefaults);

    private static void OmitDefaults(JsonTypeInfo info)
    {
        if (info.Type != typeof(Plan)) return;
        foreach (var property in info.Properties)
            if (property.Name == "tight") property.ShouldSerialize = (plan, _) => ((Plan)plan).Tight.Count > 0;
            else if (property.Name == "unplaced") property.ShouldSerialize = (plan, _) => ((Plan)plan).Unplaced.Count > 0;
            else if (property.Name == "notes") property.ShouldSerialize = (plan, _) => ((Plan)plan).Notes.Count > 0;
            else if (property.Name == "conflictSmallest") property.ShouldSerialize = (plan, _) => !((Plan)plan).ConflictSmallest;
    }
}
