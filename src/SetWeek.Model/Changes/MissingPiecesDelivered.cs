using System.Text.Json;
using NodaTime;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>The missing pieces of a kit line arrive, as a delivery of their own.</summary>
/// <param name="Kit">Id of the kit.</param>
/// <param name="Item">The item of the line.</param>
/// <param name="By">Store-local arrival of the missing pieces.</param>
public sealed record MissingPiecesDelivered(string Kit, string Item, LocalDateTime By) : WeekChange
{
    /// <summary>The value of "kind" in JSON.</summary>
    public const string KindName = "complete";

    /// <inheritdoc/>
    public override string Kind => KindName;

    /// <inheritdoc/>
    /// <remarks>
    /// The line is settled, since its count stays a fact. The tasks that it held up also need the second delivery; the others
    /// need not wait for it.
    /// </remarks>
    public override Week Apply(Week week)
    {
        var shortage = KitShortage.Of(week, Kit, Item);
        var completed = week with
        {
            Kits = [.. week.Kits.Select(kit => kit.Id != Kit ? kit : kit with
            {
                Lines = [.. kit.Lines.Select(line => line.Item == Item ? line with { Settled = true } : line)],
            })],
        };
        if (week.Kits.First(kit => kit.Id == Kit) is var shipped && shipped.Eta >= By) return completed;
        var delivery = new Kit(FreeId(week), $"Missing {Item}", By);
        return completed with
        {
            Kits = [.. completed.Kits, delivery],
            Tasks = [.. week.Tasks.Select(task => !shortage.HeldUp.Contains(task) ? task
                : task with { Needs = [.. task.Needs, new KitRequirement(delivery.Id)] })],
        };
    }

    /// <inheritdoc/>
    public override string Sentence(Week week) =>
        $"The missing “{Item}” of the kit “{week.Kits.First(kit => kit.Id == Kit).Name}” arrive by {WeekPhrases.Time(By)}.";

    internal static WeekChange Read(JsonFields at) =>
        new MissingPiecesDelivered(at.Id("kit"), at.Word("item"), at.LocalTime("by"));

    internal override void Write(Utf8JsonWriter json)
    {
        json.Text("kit", Kit);
        json.Text("item", Item);
        json.Time("by", By);
    }

    internal override IEnumerable<Fault?> Faults(WeekIds known) =>
        [known.Kits.UnknownIdFault("/kit", Kit) ?? known.UnknownLineFault("/item", Kit, Item)];

    private static string FreeId(Week week) => Enumerable.Range(1, week.Kits.Count + 1).Select(number => $"missing.{number}")
        .First(id => week.Kits.All(kit => kit.Id != id));
}
