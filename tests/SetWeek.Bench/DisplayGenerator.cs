using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Bench;

/// <summary>
/// Generates displays of several kinds with their chains of tasks, until the week has the requested number of tasks.
/// </summary>
internal sealed class DisplayGenerator(Random random, WeekGenerator.Size size)
{
    private readonly List<Display> displays = [];
    private readonly List<WeekTask> tasks = [];

    public (IReadOnlyList<Display>, IReadOnlyList<WeekTask>, IReadOnlyList<Kit>) Make()
    {
        Action<string>[] kinds = [Wall, Forms, Window, Shelf, Move, Forms];
        for (var number = 1; tasks.Count < size.Tasks - 7; number++) kinds[(number - 1) % kinds.Length]($"{number}");
        for (var number = 1; tasks.Count < size.Tasks - 1; number++) Signs($"extra-{number}");
        AddDisplay("floor", must: true);
        tasks.Add(new WeekTask
        {
            Id = "floor.final-clean", Name = "final clean", Display = "floor", Zone = "zone-1", Last = true,
            Modes = [new(60, [new("cleaning", 2)]), new(40, [new("cleaning", 3)])],
        });
        return (displays, tasks, Kits());
    }

    private void Wall(string number)
    {
        var (id, zone) = ($"wall-{number}", AnyZone());
        AddDisplay(id, must: true);
        AddTask(id, zone, "mask", [new(RoundedDuration(60), [new("painting", 1)])]);
        AddTask(id, zone, "first-coat", Coat(1), after: [new($"{id}.mask")], traits: ["wet", "ladder"], kit: "kit-paint");
        AddTask(id, zone, "second-coat", Coat(2), after: [new($"{id}.first-coat") { DryMinutes = 240 }],
            traits: ["wet", "ladder"], kit: "kit-paint");
        AddTask(id, zone, "refit", [new(RoundedDuration(80), [new("fixtures", 2)])],
            after: [new($"{id}.second-coat") { DryMinutes = 240 }], traits: ["noisy"]);
        AddTask(id, zone, "fill", [new(RoundedDuration(80), [new("stock", 1)]), new(55, [new("stock", 2)])],
            after: [new($"{id}.refit")], stints: 2);
        AddSign(id, zone, $"{id}.fill");
    }

    private void Forms(string number)
    {
        var (id, zone) = ($"forms-{number}", AnyZone());
        AddDisplay(id, must: random.Next(3) > 0);
        AddTask(id, zone, "stands", [new(RoundedDuration(35), [new("fixtures", 1)])]);
        AddTask(id, zone, "dress",
            [new(RoundedDuration(80), [new("dressing", 1) { Level = 2 }]),
                new(50, [new("dressing", 1) { Level = 2 }, new("dressing", 1)])],
            after: [new($"{id}.stands")]);
        AddTask(id, zone, "pose", [new(RoundedDuration(45), [new("dressing", 1) { Level = 2 }])], after: [new($"{id}.dress")]);
        AddTask(id, zone, "secure",
            [new(RoundedDuration(40), [new("rigging", 1), new("fixtures", 1)]) { Equipment = [new("ladder", 1)] }],
            after: [new($"{id}.pose") { SameNight = true }], traits: ["ladder"], kit: "kit-props");
        AddSign(id, zone, $"{id}.secure");
    }

    private void Window(string number)
    {
        var (id, zone) = ($"window-{number}", AnyZone());
        displays.Add(new($"{id}.plain", $"{id} plain", DisplayCommitment.Want) { Value = 1 });
        displays.Add(
            new(id, id, DisplayCommitment.Want) { Value = 30 + random.Next(40),
                Alternate = new($"{id}.plain", 10 + random.Next(20)) });
        AddTask(id, zone, "glass", [new(RoundedDuration(30), [new("cleaning", 1)])]);
        AddTask(id, zone, "hang",
            [new(RoundedDuration(80), [new("rigging", 1), new("fixtures", 1)]) { Equipment = [new("ladder", 2)] }],
            after: [new($"{id}.glass")], traits: ["ladder", "noisy"]);
        AddTask(id, zone, "lights",
            [new(RoundedDuration(55), [new("rigging", 1) { Level = 2 }]) { Equipment = [new("ladder", 1)] }],
            after: [new($"{id}.hang") { SameNight = true }], traits: ["ladder"]);
        AddTask(id, zone, "glue", [new(RoundedDuration(30), [new("dressing", 1)])], after: [new($"{id}.lights")]);
        AddTask(id, zone, "cure", [new(120, [])], after: [new($"{id}.glue")]);
        AddTask(id, zone, "dress", [new(RoundedDuration(60), [new("dressing", 1) { Level = 2 }])], after: [new($"{id}.cure")],
            due: $"night-{size.Nights - 1}");
        AddTask($"{id}.plain", zone, "banner", [new(30, [new("stock", 1)])]);
    }

    private void Shelf(string number)
    {
        var (id, zone) = ($"shelf-{number}", AnyZone());
        AddDisplay(id, must: true);
        AddTask(id, zone, "brackets", [new(RoundedDuration(45), [new("fixtures", 1)])], traits: ["noisy"]);
        AddTask(id, zone, "shelf", [new(RoundedDuration(35), [new("fixtures", 2)]) { Equipment = [new("ladder", 1)] }],
            after: [new($"{id}.brackets")], traits: ["ladder"]);
        AddTask(id, zone, "figure",
            [new(RoundedDuration(45), [new("dressing", 1) { Level = 2 }]) { Equipment = [new("steamer", 1)] }]);
        AddTask(id, zone, "pose", [new(RoundedDuration(40), [new("dressing", 1), new("fixtures", 1)])],
            after: [new($"{id}.shelf"), new($"{id}.figure")], kit: "kit-props");
        AddTask(id, zone, "clip", [new(15, [new("dressing", 1)])], after: [new($"{id}.pose") { SameNight = true }]);
    }

    private void Move(string number)
    {
        var (id, zone) = ($"move-{number}", AnyZone());
        AddDisplay(id, must: true);
        AddTask(id, zone, "clear", [new(RoundedDuration(60), [new("stock", 1)]), new(35, [new("stock", 2)])]);
        AddTask(id, zone, "move", [new(RoundedDuration(75), [new("fixtures", 2), new("stock", 1)])],
            after: [new($"{id}.clear")], traits: ["noisy"]);
        AddTask(id, zone, "fill", [new(RoundedDuration(120), [new("stock", 1)]), new(70, [new("stock", 2)])],
            after: [new($"{id}.move")], stints: 2);
    }

    private void Signs(string id)
    {
        AddDisplay(id, must: false);
        AddTask(id, AnyZone(), "sign", [new(RoundedDuration(25), [new("stock", 1)])], kit: "kit-signs");
    }

    private void AddSign(string id, string zone, string after) =>
        AddTask(id, zone, "sign", [new(RoundedDuration(25), [new("stock", 1)])], after: [new(after)], kit: "kit-signs");

    private Mode[] Coat(int level) =>
    [
        new(RoundedDuration(140), [new("painting", 1) { Level = level }]) { Equipment = [new("ladder", 1)] },
        new(80, [new("painting", 1) { Level = level }, new("painting", 1)]) { Equipment = [new("ladder", 1)] },
    ];

    private static Kit[] Kits() =>
    [
        new("kit-paint", "Paint", new LocalDateTime(2027, 3, 6, 12, 0)) { Lines = [new("tin", 6) { Received = 6 }] },
        new("kit-props", "Props", new LocalDateTime(2027, 3, 9, 14, 0)) { Lines = [new("prop", 20)] },
        new("kit-signs", "Signs", new LocalDateTime(2027, 3, 10, 11, 0)) { Lines = [new("sign", 60)] },
    ];

    private void AddDisplay(string id, bool must) =>
        displays.Add(new(id, id, must ? DisplayCommitment.Must : DisplayCommitment.Want)
        {
            Value = must ? 0 : 10 + random.Next(40),
        });

    private void AddTask(string display, string zone, string name, IReadOnlyList<Mode> modes,
        IReadOnlyList<TaskPrecedence>? after = null, IReadOnlyList<string>? traits = null,
        string? kit = null, int stints = 1, string? due = null) =>
        tasks.Add(new WeekTask
        {
            Id = $"{display}.{name}", Name = name, Display = display, Zone = zone, Modes = modes,
            After = after ?? [], Traits = traits ?? [],
            Needs = kit is null ? [] : [new KitRequirement(kit)], Stints = stints, Due = due,
            Estimate = new(modes[0].Minutes * 4 / 5, modes[0].Minutes * 8 / 5),
        });

    private string AnyZone() => $"zone-{1 + random.Next(size.Zones)}";

    /// <summary>Within a fifth of the given minutes, rounded down to five minutes.</summary>
    private int RoundedDuration(int minutes) => (int)(minutes * (0.8 + 0.4 * random.NextDouble())) / 5 * 5;
}
