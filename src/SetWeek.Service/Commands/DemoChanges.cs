using System.Text.Json;
using NodaTime;
using SetWeek.Scheduling;

namespace SetWeek.Service.Commands;

/// <summary>What a re-plan changes: what moved, whose shifts, who must be told, what it costs.</summary>
internal sealed class DemoChanges(DemoTables tables, Week week)
{
    public void Print(Plan was, Plan now, JsonElement changes)
    {
        tables.Say("What moved to another night:");
        tables.Rows(["what", "was", "now"], Moved(was, now).Select(move => new[] { move.Name, move.Was, move.Now }));
        tables.Say("Who must be told, and of what:");
        tables.Rows(["who", "what"], changes.Items("told").Select(told => new[]
        {
            DemoTables.NameOf(told.Text("person") ?? "", week), string.Join('\n', told.Items("sentences").Select(sentence => sentence.GetString())),
        }));
        var cost = changes.As<JsonElement>("cost");
        var (before, after) = (cost.Number("was") ?? 0, cost.Number("now") ?? 0);
        tables.Say($"What it costs: {DemoWords.Money(before, week.Currency)} before, {DemoWords.Money(after, week.Currency)} now: "
            + (after == before ? "the same." : after > before ? $"{DemoWords.Money(after - before, week.Currency)} more." : $"{DemoWords.Money(before - after, week.Currency)} less."));
    }

    private IEnumerable<(string Name, string Was, string Now)> Moved(Plan was, Plan now)
    {
        var before = Stints(was).ToDictionary(work => (work.Task, work.Stint));
        var after = Stints(now).ToDictionary(work => (work.Task, work.Stint));
        foreach (var (key, work) in before)
        {
            if (!after.TryGetValue(key, out var moved)) yield return (DemoTables.WorkName(work, week), Place(was, work), "not built");
            else if (NightOf(was, work) != NightOf(now, moved)) yield return (DemoTables.WorkName(work, week), Place(was, work), Place(now, moved));
        }
        foreach (var (key, work) in after)
            if (!before.ContainsKey(key)) yield return (DemoTables.WorkName(work, week), "not built", Place(now, work));
    }

    private static IEnumerable<PlannedWork> Stints(Plan plan) => plan.Nights.SelectMany(night => night.Work).Where(work => work.Task is not null);

    private static string NightOf(Plan plan, PlannedWork work) => plan.Nights.First(night => night.Work.Contains(work)).Night;

    private string Place(Plan plan, PlannedWork work) =>
        $"{DemoWords.Day(week.Nights.First(night => night.Id == NightOf(plan, work)).Opens)}, {DemoWords.Time(work.From)}";
}
