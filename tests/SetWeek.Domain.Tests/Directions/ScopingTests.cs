using SetWeek.Domain.Directions;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Directions;

public sealed class ScopingTests
{
    private readonly ScopedDirection scoped = Scoping.Of(FirstRain, Harbour);

    [Fact]
    public void A_display_that_needs_a_missing_feature_is_replaced_by_its_alternate()
    {
        Assert.DoesNotContain(scoped.Displays, display => display.Id == "cycle");
        var panel = Assert.Single(scoped.Displays, display => display.Id == "cycle.panel");
        Assert.Equal((DisplayCommitment.Want, 40), (panel.Commitment, panel.Value));
        Assert.Null(panel.Alternate);
        Assert.Contains(scoped.Decisions, decision => decision is
        {
            Display: "cycle", Outcome: ScopingOutcome.Alternate,
            Sentence: "“Cycle panel” replaces “Cycle prop”: Harbour Street has no cycle-stand.",
        });
    }

    [Fact]
    public void Tasks_of_removed_displays_and_their_precedences_are_removed()
    {
        Assert.DoesNotContain(scoped.Tasks, task => task.Id == "cycle.tie");
        var refit = Assert.Single(scoped.Tasks, task => task.Id == "feature-wall.refit");
        Assert.Equal(new TaskPrecedence("feature-wall.paint") { DryMinutes = 240 }, Assert.Single(refit.After));
    }

    [Fact]
    public void A_missing_zone_is_replaced_by_the_first_alternative_that_the_store_has()
    {
        Assert.Equal("floor", Assert.Single(scoped.Tasks, task => task.Id == "cycle.panel.lean").Zone);
        Assert.Contains(scoped.Decisions, decision => decision is
        {
            Display: "cycle.panel", Outcome: ScopingOutcome.Elsewhere,
                Sentence: "“Cycle panel” is built in Shop floor: Harbour Street has no Stage.",
        });
    }

    [Fact]
    public void A_display_with_all_its_features_keeps_its_alternate()
    {
        var equipped = Scoping.Of(FirstRain, Harbour with { Features = ["cycle-stand"] });
        Assert.Equal(["feature-wall", "cycle", "cycle.panel"], equipped.Displays.Select(display => display.Id));
        Assert.Equal(new Alternate("cycle.panel", 10), equipped.Displays[1].Alternate);
        Assert.DoesNotContain(equipped.Decisions, decision =>
            decision.Outcome is ScopingOutcome.Alternate or ScopingOutcome.Dropped);
    }

    [Fact]
    public void A_display_without_an_alternate_is_dropped_with_a_reason()
    {
        var withoutAlternate = FirstRain with { Displays = [.. FirstRain.Displays.Take(1),
            FirstRain.Displays[1] with { Alternate = null }],
            Tasks = [.. FirstRain.Tasks.Take(2)] };
        var answer = Scoping.Of(withoutAlternate, Harbour);
        Assert.Equal(["feature-wall"], answer.Displays.Select(display => display.Id));
        Assert.Equal("“Cycle prop” is dropped: Harbour Street has no cycle-stand, and the direction names no alternate.", Assert
            .Single(answer.Decisions).Sentence);
    }

    [Fact]
    public void An_alternate_that_the_store_cannot_build_is_removed_from_its_display()
    {
        var demandingAlternate = FirstRain with { Displays = [FirstRain.Displays[0], FirstRain.Displays[1] with { Requires = [] },
            FirstRain.Displays[2] with { Requires = ["sky"] }] };
        var answer = Scoping.Of(demandingAlternate, Harbour);
        Assert.Equal(["feature-wall", "cycle"], answer.Displays.Select(display => display.Id));
        Assert.Null(answer.Displays[1].Alternate);
        Assert.Contains(answer.Decisions, decision => decision.Outcome == ScopingOutcome.NoAlternate);
    }

    [Fact]
    public void A_display_without_a_possible_zone_is_dropped()
    {
        var answer = Scoping.Of(FirstRain with { Zones = [] }, Harbour with { Features = ["cycle-stand"] });
        Assert.Equal(["feature-wall"], answer.Displays.Select(display => display.Id));
        Assert.Contains("“Cycle panel” cannot replace it", Assert.Single(answer.Decisions).Sentence);
    }

    [Fact]
    public void A_store_is_sent_only_the_kits_and_lines_that_its_tasks_need()
    {
        var direction = FirstRain with
        {
            Tasks = [.. FirstRain.Tasks.Select(task => task.Id == "cycle.tie"
                ? task with { Needs = [Need("props", "cycle"), Need("props", "tie"), Need("frame", "stand")] }
                : task.Id == "feature-wall.refit" ? task with { Needs = [Need("props", "tie")] } : task)],
            Kits =
            [
                .. FirstRain.Kits,
                new DirectedKit("props", "Props", [new("cycle", 1), new("tie", 4), new("spare", 2)]),
                new DirectedKit("frame", "Frame", [new("stand", 1)]),
            ],
        };
        // The cycle cannot be built here. The tie is needed elsewhere, and no task of the direction names the spare pieces.
        Assert.Equal(["paint: tin", "props: tie spare"], Sent(Scoping.Of(direction, Harbour)));
        Assert.Equal(["paint: tin", "props: cycle tie spare", "frame: stand"],
            Sent(Scoping.Of(direction, Harbour with { Features = ["cycle-stand"] })));
    }

    [Fact]
    public void A_task_that_needs_a_kit_as_a_whole_keeps_its_other_lines()
    {
        var direction = FirstRain with
        {
            Tasks = [.. FirstRain.Tasks.Select(task => task.Id == "cycle.tie"
                ? task with { Needs = [Need("paint", "brush")] } : task)],
            Kits = [new DirectedKit("paint", "Paint", [new("tin", 3), new("brush", 1), new("tray", 1)])],
        };
        Assert.Equal(["paint: tin tray"], Sent(Scoping.Of(direction, Harbour)));
        var whole = direction with
        {
            Tasks = [.. direction.Tasks.Select(task => task.Id == "feature-wall.refit"
                ? task with { Needs = [new KitRequirement("paint")] } : task)],
        };
        Assert.Equal(["paint: tin brush tray"], Sent(Scoping.Of(whole, Harbour)));
    }

    private static KitRequirement Need(string kit, string item) => new(kit) { Item = item };

    private static string[] Sent(ScopedDirection scoped) =>
        [.. scoped.Kits.Select(kit => $"{kit.Id}: {string.Join(' ', kit.Lines.Select(line => line.Item))}")];
}
