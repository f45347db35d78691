using SetWeek.Domain.Work.Gates;

namespace SetWeek.Domain.Tests.Work;

/// <summary>The gates are data. The sources that they name are on the sheet beside them.</summary>
public sealed class UsualGatesTests
{
    [Fact]
    public void Every_gate_says_where_it_is_said_and_how_that_was_read()
    {
        var all = UsualGates.Known.Before.Concat(UsualGates.Known.After).ToList();
        Assert.Distinct(all.Select(gate => gate.Id));
        Assert.All(all, gate => Assert.True(gate.Traits.Count + gate.Equipment.Count > 0));
        Assert.All(all, gate => Assert.NotEqual(gate.Read == "no source", gate.Citation.Contains("CFR", StringComparison.Ordinal)
            || gate.Citation.Contains("Regulations", StringComparison.Ordinal) || gate.Citation.Contains("Agency", StringComparison.Ordinal)));
    }

    /// <summary>
    /// A ladder is inspected before its first use in each shift: 29 CFR 1910.23(b)(9) (from memory). Drilling asks for the record of
    /// the wall, and for a dead circuit behind it: 29 CFR 1910.333(b) (from memory).
    /// </summary>
    [Theory]
    [InlineData("ladder", "", "ladder-tag ladder-company")]
    [InlineData("", "ladder", "ladder-tag ladder-company")]
    [InlineData("noisy", "drill", "wall-record circuit-off")]
    [InlineData("dust", "", "wall-record")]
    [InlineData("paint", "platform", "platform-locked air-on")]
    [InlineData("", "dolly", "")]
    public void Work_is_asked_by_its_traits_and_its_equipment(string trait, string equipment, string gates) =>
        Assert.Equal(gates, string.Join(" ", UsualGates.Known.Before.Where(gate =>
            gate.AppliesTo(trait == "" ? [] : [trait], equipment == "" ? [] : [equipment])).Select(gate => gate.Id)));

    /// <summary>A guide to coatings gives about 10 to 35 degrees Celsius and at most 85 % relative humidity.</summary>
    [Fact]
    public void The_air_for_paint_is_that_of_the_guide() => Assert.Equal((10, 35, 85), (UsualGates.Known.Air.LeastDegreesCelsius,
        UsualGates.Known.Air.MostDegreesCelsius, UsualGates.Known.Air.MostMoisturePercent));

    [Fact]
    public void Data_that_is_not_valid_is_not_read() =>
        Assert.Throws<InvalidDataException>(() => UsualGates.Read("""{"id": "usual", "before": [{"id": "x"}]}"""u8.ToArray()));
}
