using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>A display is not built, nor is its alternate. A must becomes a want of the greatest value.</summary>
/// <param name="Display">Id of the display.</param>
public sealed record LeaveOut(string Display) : WeekChange
{
    /// <summary>The value that a must has once it may be left out: the greatest of a want.</summary>
    public const int MaxValue = 100;

    /// <summary>The value of "kind" in JSON.</summary>
    public const string KindName = "leaveOut";

    /// <inheritdoc/>
    public override string Kind => KindName;

    /// <inheritdoc/>
    public override Week Apply(Week week)
    {
        var display = week.Displays.First(display => display.Id == Display);
        var optional = week with
        {
            Displays = [.. week.Displays.Select(other => other.Id != Display || other.Commitment == DisplayCommitment.Want ? other
                : other with { Commitment = DisplayCommitment.Want, Value = MaxValue })],
        };
        return DisplayExclusion.Exclude(
            optional, [Display, .. display.Alternate is { } alternate ? [alternate.Display] : (string[])[]]);
    }

    /// <inheritdoc/>
    public override string Sentence(Week week) =>
        $"“{week.Displays.First(display => display.Id == Display).Name}” is left out.";

    internal static WeekChange Read(JsonFields at) => new LeaveOut(at.Id("display"));

    internal override void Write(Utf8JsonWriter json) => json.Text("display", Display);

    internal override IEnumerable<Fault?> Faults(WeekIds known) => [known.Displays.UnknownIdFault("/display", Display)];
}
