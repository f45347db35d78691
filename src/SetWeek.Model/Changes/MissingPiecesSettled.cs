using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>Somebody decides to work with the good pieces of a short kit line, so the line holds no task up.</summary>
/// <param name="Kit">Id of the kit.</param>
/// <param name="Item">The item of the line.</param>
public sealed record MissingPiecesSettled(string Kit, string Item) : WeekChange
{
    /// <summary>The value of "kind" in JSON.</summary>
    public const string KindName = "settle";

    /// <inheritdoc/>
    public override string Kind => KindName;

    /// <inheritdoc/>
    public override Week Apply(Week week) => week with
    {
        Kits = [.. week.Kits.Select(kit => kit.Id != Kit ? kit : kit with
        {
            Lines = [.. kit.Lines.Select(line => line.Item == Item ? line with { Settled = true } : line)],
        })],
    };

    /// <inheritdoc/>
    /// <remarks>It says what goes without, because a person has to decide whether the work can be done like that.</remarks>
    public override string Sentence(Week week)
    {
        var (shortage, kit) = (KitShortage.Of(week, Kit, Item), week.Kits.First(kit => kit.Id == Kit).Name);
        string[] naming = [.. week.Tasks.Where(task => task.Needs.Any(need => need.Kit == Kit && need.Item == Item))
            .Select(task => WeekPhrases.Task(week, task))];
        return shortage.Missing == 0 ? $"The “{Item}” of the kit “{kit}” are settled; none is missing."
            : $"You decide to go without {shortage.Missing} of the {shortage.Required} “{Item}” of the kit “{kit}” that "
                + $"{WeekPhrases.ListFirst(naming)} {(naming.Length == 1 ? "needs" : "need")}.";
    }

    internal static WeekChange Read(JsonFields at) => new MissingPiecesSettled(at.Id("kit"), at.Word("item"));

    internal override void Write(Utf8JsonWriter json)
    {
        json.Text("kit", Kit);
        json.Text("item", Item);
    }

    internal override IEnumerable<Fault?> Faults(WeekIds known) =>
        [known.Kits.UnknownIdFault("/kit", Kit) ?? known.UnknownLineFault("/item", Kit, Item)];
}
