using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>A display is not built, so that its alternate can be.</summary>
/// <param name="Display">Id of the display.</param>
public sealed record UseAlternate(string Display) : WeekChange
{
    /// <summary>The value of "kind" in JSON.</summary>
    public const string KindName = "alternate";

    /// <inheritdoc/>
    public override string Kind => KindName;

    /// <inheritdoc/>
    public override Week Apply(Week week) => DisplayExclusion.Exclude(week, Display);

    /// <inheritdoc/>
    public override string Sentence(Week week)
    {
        var display = week.Displays.First(display => display.Id == Display);
        return week.Displays.FirstOrDefault(other => other.Id == display.Alternate?.Display) is { } alternate
            ? $"“{alternate.Name}” is built instead of “{display.Name}”." : $"“{display.Name}” has no alternate.";
    }

    internal static WeekChange Read(JsonFields at) => new UseAlternate(at.Id("display"));

    internal override void Write(Utf8JsonWriter json) => json.Text("display", Display);

    internal override IEnumerable<Fault?> Faults(WeekIds known) =>
        [known.Displays.UnknownIdFault("/display", Display) ?? known.WithAlternate.UnknownIdFault("/display", Display)];
}
