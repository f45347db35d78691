using SetWeek.Domain.Directions;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Tests.Directions;

public sealed class DirectionTests
{
    [Fact]
    public void A_direction_is_issued_once_and_then_revised()
    {
        Assert.Equal(new DirectionIssued(Example.FirstRain), Direction.Issue(null, Example.FirstRain).AsT0);
        Assert.Equal("direction-issued", Direction.Issue(Example.FirstRain, Example.FirstRain).AsT1.Code);
        Assert.Equal("another-direction", Example.FirstRain.Revise(Example.FirstRain with { Id = "second-rain" }).AsT1.Code);
    }

    [Fact]
    public void A_valid_direction_has_no_fault() => Assert.Empty(DirectionFaults.Of(Example.FirstRain));

    [Fact]
    public void Faults_of_a_direction_have_pointers()
    {
        var invalid = Example.FirstRain with
        {
            Tasks = [Example.FirstRain.Tasks[0] with { After = [new TaskPrecedence("nowhere")],
                Needs = [new KitRequirement("glitter")] }],
            Zones = [new DirectedZone("stage", "Stage", []), new DirectedZone("stage", "Stage", [])],
        };
        var faults = DirectionFaults.Of(invalid).Select(fault => fault.Pointer).ToList();
        Assert.Contains("/tasks/0/after/0/task", faults);
        Assert.Contains("/tasks/0/needs/0/kit", faults);
        Assert.Contains("/zones/1/id", faults);
    }
}
