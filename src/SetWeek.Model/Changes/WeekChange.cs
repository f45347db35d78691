using System.Text.Json;
using System.Text.Json.Serialization;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>
/// A single change to a week, as somebody could make it with a telephone call: a kit that comes earlier, a night that closes
/// later, one more person. What repairs offer, what-if tries and options take is said in these words (docs/formats.md).
/// </summary>
[JsonConverter(typeof(WeekChangeConverter))]
public abstract record WeekChange
{
    /// <summary>What kind of change, as the files name it.</summary>
    [JsonIgnore]
    public abstract string Kind { get; }

    /// <summary>
    /// The week with the change made. Whoever cannot be sure that it is valid asks <see cref="WeekFile.Check"/>.
    /// </summary>
    /// <param name="week">A valid week that has all that the change names.</param>
    public abstract Week Apply(Week week);

    /// <summary>What is done, in a sentence for people.</summary>
    public abstract string Sentence(Week week);

    /// <summary>The fields besides the kind.</summary>
    internal abstract void Write(Utf8JsonWriter json);

    /// <summary>What it names and the week does not have; pointers are into the change.</summary>
    internal abstract IEnumerable<Fault?> Faults(WeekIds known);

    /// <summary>The week with all of them made, one after the other.</summary>
    public static Week Apply(Week week, IEnumerable<WeekChange> changes) =>
        changes.Aggregate(week, (changed, change) => change.Apply(changed));
}
