using SetWeek.Domain.Directions;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Directions;

public sealed class DirectionChangesTests
{
    private static readonly TechniqueCard Roll = new("roll", "Roll a coat")
    {
        Tasks = ["feature-wall.paint"], Steps = [new("Cut in a metre.")], Good = ["No run."],
    };

    [Fact]
    public void Nothing_is_changed_by_the_same_direction_read_anew()
    {
        var again = FirstRain with
        {
            Displays = [.. FirstRain.Displays.Select(display => display with { Requires = [.. display.Requires] })],
            Tasks = [.. FirstRain.Tasks.Select(task => task with { Modes = [.. task.Modes.Select(mode => mode with
                { Roles = [.. mode.Roles] })], After = [.. task.After] })],
        };
        Assert.Empty(DirectionChange.Between(FirstRain, again));
    }

    [Fact]
    public void What_is_changed_is_named_with_its_display()
    {
        var later = FirstRain with
        {
            Name = "Second Rain",
            Displays = [.. FirstRain.Displays.Skip(1), new("line", "Drying line", SetWeek.Model.Weeks.DisplayCommitment.Want) { Value = 5 }],
            Tasks = [FirstRain.Tasks[0] with { Steps = ["Mask."], Cautions = ["Air the room."] }, .. FirstRain.Tasks.Skip(2)],
            Kits = [FirstRain.Kits[0] with { Lines = [new("tin", 4), new("roller", 2)] }],
            Cards = [Roll],
        };
        Assert.Equal(
        [
            (null, "It was called “First Rain”."),
            ("cycle", "“Tie the cycle to its stand” is dropped."),
            ("line", "“Drying line” is new."),
            (null, "“Paint”: 4 × tin; it was 3."),
            (null, "“Paint”, also sent: 2 × roller."),
            ("feature-wall", "The card “Roll a coat” is new."),
            (null, "“Painted wall” is dropped."),
        ], DirectionChange.Between(FirstRain, later).Select(change => (change.Display, change.Sentence)));
        Assert.Equal([("feature-wall", "“Paint the wall”: steps and cautions changed.")],
            DirectionChange.Between(FirstRain, FirstRain with { Tasks = [later.Tasks[0], .. FirstRain.Tasks.Skip(1)] })
                .Select(change => (change.Display, change.Sentence)));
    }

    [Fact]
    public void Of_a_picture_that_is_elsewhere_now_both_addresses_are_said()
    {
        var later = Roll with { Steps = [new("Cut in a metre.") { Picture = new Drawing("The edge", "https://chain.example/edge-2.png") }] };
        var before = Roll with { Steps = [new("Cut in a metre.") { Picture = new Drawing("The edge", "https://chain.example/edge.png") }] };
        var change = Assert.Single(DirectionChange.Between(FirstRain with { Cards = [before] }, FirstRain with { Cards = [later] }));
        Assert.Equal("The card “Roll a coat”: steps changed.", change.Sentence);
        var steps = Assert.Single(change.Parts);
        Assert.Equal(["Cut in a metre. Picture: The edge; https://chain.example/edge.png"], steps.Before);
        Assert.Equal(["Cut in a metre. Picture: The edge; https://chain.example/edge-2.png"], steps.After);
    }

    [Fact]
    public void Of_what_is_changed_both_versions_stand_side_by_side()
    {
        var task = FirstRain.Tasks[0];
        var later = FirstRain with
        {
            Displays =
            [
                FirstRain.Displays[0] with { MustBeShown = true, About = "Slate blue to the floor." }, .. FirstRain.Displays.Skip(1),
            ],
            Tasks = [task with { Cautions = ["Air the room.", "No flame."], Stints = task.Stints + 1 }, .. FirstRain.Tasks.Skip(1)],
            Kits = [FirstRain.Kits[0] with { Lines = [new("tin", 4), new("roller", 2)] }, .. FirstRain.Kits.Skip(1)],
            Cards = [Roll with { Tasks = [task.Id] }],
        };
        var changes = DirectionChange.Between(FirstRain with { Cards = [Roll with { Tasks = [] }] }, later);
        Assert.Equal(
        [
            ("Painted wall: description", "", "Slate blue to the floor."), ("Painted wall: that it must be shown", "no", "yes"),
            ($"{task.Name}: cautions", string.Join('|', task.Cautions), "Air the room.|No flame."),
            ("Paint: tin", "3", "4"), ("Paint: roller", "", "2"), ("The card Roll a coat: pieces of work", "", task.Name),
        ], changes.SelectMany(change => change.Parts.Where(part => part.Name != "minutes and hands").Select(part =>
            ($"{change.Subject}: {part.Name}", string.Join('|', part.Before), string.Join('|', part.After)))));
        var hands = Assert.Single(changes.SelectMany(change => change.Parts), part => part.Name == "minutes and hands");
        Assert.Equal(("2 parts", "3 parts"), (hands.Before[0], hands.After[0]));
        Assert.Contains(" min", hands.Before[1], StringComparison.Ordinal);
        Assert.All(DirectionChange.Between(FirstRain with { Cards = [] }, FirstRain with { Cards = [Roll] }),
            added => Assert.Empty(added.Parts));
    }

    [Fact]
    public void Cards_and_cartons_are_compared_by_what_they_say()
    {
        var before = FirstRain with { Cards = [Roll] };
        Assert.Empty(DirectionChange.Between(before, FirstRain with { Cards = [Roll with { Good = ["No run."], Tasks = [.. Roll.Tasks] }] }));
        Assert.Equal(["The card “Roll a coat”: what good looks like and films changed."], DirectionChange.Between(before, FirstRain with
        {
            Cards = [Roll with { Good = ["No sag."], Films = [new("Rolling") { Said = [new(0, "A metre is cut in.")] }] }],
        }).Select(change => change.Sentence));
        Assert.Equal(["“Paint”: the cartons changed."], DirectionChange.Between(before, before with
        {
            Kits = [before.Kits[0] with { Cartons = [new("P1") { Holds = ["Three tins"] }] }],
        }).Select(change => change.Sentence));
    }

    [Fact]
    public void Colours_figures_and_items_of_cartons_are_compared_and_name_what_there_is()
    {
        Direction With(string wears, string item) => FirstRain with
        {
            Displays = [FirstRain.Displays[0] with
            {
                Colours = [new("Slate blue") { Tasks = [FirstRain.Tasks[0].Id] }], Figures = [new("Looks up") { Wears = [wears] }],
            }, .. FirstRain.Displays.Skip(1)],
            Kits = [FirstRain.Kits[0] with { Cartons = [new("P1") { Items = [item] }] }, .. FirstRain.Kits.Skip(1)],
        };
        var (line, name) = (FirstRain.Kits[0].Lines[0].Item, FirstRain.Displays[0].Name);
        Assert.Empty(DirectionChange.Between(With("Coat, M", line), With("Coat, M", line)));
        Assert.Equal([$"“{name}”: figures changed."],
            DirectionChange.Between(With("Coat, M", line), With("Coat, L", line)).Select(change => change.Sentence));
        Assert.Equal([$"“{name}”: colours and figures changed.", $"“{FirstRain.Kits[0].Name}”: the cartons changed."],
            DirectionChange.Between(FirstRain, With("Coat, M", line)).Select(change => change.Sentence));
        Assert.Empty(DirectionFaults.Of(With("Coat, M", line)));
        var wrong = With("Coat, M", "glitter");
        wrong = wrong with { Displays = [wrong.Displays[0] with
            { Colours = [new("Red") { Tasks = ["roof.paint"] }], Figures = [new("Runs") { Tasks = [FirstRain.Tasks[0].Id, "roof.run"] }] },
            .. wrong.Displays.Skip(1)] };
        Assert.Equal(["/displays/0/colours/0/tasks/0", "/displays/0/figures/0/tasks/1", "/kits/0/cartons/0/items/0"],
            DirectionFaults.Of(wrong).Select(fault => fault.Pointer));
    }

    [Fact]
    public void A_card_names_tasks_of_the_direction_and_stands_once()
    {
        var faults = DirectionFaults.Of(FirstRain with { Cards = [Roll, Roll with { Tasks = ["roof.paint"] }] });
        Assert.Equal(["/cards/1/id", "/cards/1/tasks/0"], faults.Select(fault => fault.Pointer));
    }
}
