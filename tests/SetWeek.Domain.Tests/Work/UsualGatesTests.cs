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

    /// <summary>
    /// Common practice, no source: up to 50 % relative humidity paint dries as planned, up to 70 % one and a half times as long, up
    /// to 85 % twice as long. Beyond 85 %, or below 10 degrees, it counts as not drying; the limits are those of the guide to
    /// coatings.
    /// </summary>
    [Theory]
    [InlineData(23, 50, 100), InlineData(23, 51, 150), InlineData(23, 70, 150), InlineData(23, 71, 200), InlineData(23, 85, 200)]
    [InlineData(23, 86, null), InlineData(9, 50, null), InlineData(10, 50, 100), InlineData(35, 30, 100), InlineData(36, 30, null)]
    public void Moist_air_lengthens_the_drying_and_outside_the_limits_nothing_is_estimated(int degrees, int moisture, int? percent)
    {
        Assert.Equal(percent, UsualGates.Known.Air.DryingPercent(degrees, moisture));
        Assert.Contains("no source", UsualGates.Known.Air.Drying.Citation);
    }

    [Theory]
    [InlineData(240, 100, 240), InlineData(240, 150, 360), InlineData(25, 150, 38), InlineData(240, 200, 480)]
    public void Minutes_are_rounded_up(int minutes, int percent, int lengthened) =>
        Assert.Equal(lengthened, AirLimits.DryingMinutes(minutes, percent));

    [Fact]
    public void Data_that_is_not_valid_is_not_read() =>
        Assert.Throws<InvalidDataException>(() => UsualGates.Read("""{"id": "usual", "before": [{"id": "x"}]}"""u8.ToArray()));
}
