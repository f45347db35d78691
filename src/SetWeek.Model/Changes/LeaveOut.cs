using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>A display that is not built, nor what could stand in for it. A must is a want of the greatest value then.</summary>
public sealed record LeaveOut(string Display) : WeekChange
{
    private const int MaxValue = 100;

    public const string KindName = "leaveOut";

    public override string Kind => KindName;

    public override Week Apply(Week week)
    {
        var display = week.Displays.First(display => display.Id == Display);
        var wanted = week with
        {
            Displays = [.. week.Displays.Select(one => one.Id != Display || one.Commitment == DisplayCommitment.Want ? one
                : one with { Commitment = DisplayCommitment.Want, Value = MaxValue })],
        };
        return DisplayExclusion.Exclude(wanted, [Display, .. display.Alternate is { } alternate ? [alternate.Display] : (string[])[]]);
    }

    public override string Sentence(Week week) => $"“{week.Displays.First(display => display.Id == Display).Name}” is left out.";

    internal static WeekChange Read(JsonFields at) => new LeaveOut(at.Id("display"));

    internal override void Write(Utf8JsonWriter json) => json.Text("display", Display);

    internal override IEnumerable<Fault?> Faults(WeekIds known) => [known.Displays.UnknownIdFault("/display", Display)];
}
