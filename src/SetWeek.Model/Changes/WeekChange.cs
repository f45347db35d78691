using System.Text.Json;
using System.Text.Json.Serialization;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>
/// A single change to a week, for example an earlier kit, a later close or one more person. Repairs offer changes; what-if
/// questions and options apply them (docs/formats.md).
/// </summary>
public abstract record WeekChange
{
    /// <summary>The value of "kind" in JSON.</summary>
    [JsonIgnore]
    public abstract string Kind { get; }

    /// <summary>
    /// The week with the change applied. The result can be invalid; <see cref="WeekFile.Check"/> tells.
    /// </summary>
    /// <param name="week">
    /// A valid week that has every id in the change, see <see cref="Format.ChangeFormat.Faults(WeekChange, Week)"/>.
    /// </param>
    public abstract Week Apply(Week week);

    /// <summary>The change in a sentence that people read.</summary>
    public abstract string Sentence(Week week);

    /// <summary>Writes the fields other than the kind.</summary>
    internal abstract void Write(Utf8JsonWriter json);

    /// <summary>
    /// A fault for each id that the week does not have. Pointers are relative to the change; null means no fault.
    /// </summary>
    internal abstract IEnumerable<Fault?> Faults(WeekIds known);

    /// <summary>The week with all changes applied, one after the other.</summary>
    public static Week Apply(Week week, IEnumerable<WeekChange> changes) =>
        changes.Aggregate(week, (changed, change) => change.Apply(changed));
}
