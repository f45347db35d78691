using System.Security.Cryptography;
using System.Text;
using CsCheck;
using SetWeek.Bench;
using SetWeek.Model.Files;
using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests.Benchmarks;

/// <summary>The generator of benchmark weeks, and its measure of load on the weeks of the demo.</summary>
public class WeekGeneratorTests
{
    /// <summary>
    /// Benchmark figures are comparable only if the weeks are identical. A change of these digests invalidates all earlier
    /// figures.
    /// </summary>
    [Theory]
    [InlineData("generated.small-4", "e7364d5545118314")]
    [InlineData("generated.small-6", "c5a0f2a6916a46c6")]
    [InlineData("generated.small-15", "6b7eab93a73616a0")]
    [InlineData("generated.medium-11", "96862914ae4b1905")]
    [InlineData("generated.medium-4", "a593b7fa057e58b1")]
    [InlineData("generated.medium-8", "4d6aa997969ffa50")]
    [InlineData("generated.large-12", "5113c65f05369a85")]
    [InlineData("generated.large-8", "a5e7b2608b13400e")]
    [InlineData("generated.large-9", "9972f15e607a5c53")]
    public void The_fixed_weeks_are_valid_and_unchanged_with_their_load(string id, string digest)
    {
        var week = WeekGenerator.Fixed.Select(choice => WeekGenerator.Make(choice.Size, choice.Seed))
            .Single(week => week.Id == id);
        var file = WeekFile.Write(week);
        Assert.True(WeekFile.Read(file).IsT0);
        Assert.InRange(WeekGenerator.LoadOf(week), 0.70, 0.85);
        Assert.Equal(digest, Convert.ToHexStringLower(SHA256.HashData(file))[..16]);
    }

    [Fact]
    public void Generated_weeks_are_unchanged_by_writing_and_reading()
    {
        foreach (var (size, seed) in WeekGenerator.Fixed)
        {
            var written = WeekFile.Write(WeekGenerator.Make(size, seed));
            var read = WeekFile.Read(written).Match(good => good, ExampleFiles.Fail<Week>);
            Assert.Equal(Encoding.UTF8.GetString(written), Encoding.UTF8.GetString(WeekFile.Write(read)));
        }
    }

    [Fact]
    public void Every_generated_week_can_be_indexed_as_a_problem() =>
        Gen.Int[0, 10_000]
            .Sample(seed => Problem.Of(WeekFile.Check(WeekGenerator.Make(WeekGenerator.Size.Small, seed)).AsT0), iter: 10);

    [Theory]
    [InlineData("harbour-street")]
    [InlineData("mill-lane")]
    public void The_load_of_a_demo_week_leaves_room_for_work_that_takes_longer(string store) =>
        Assert.InRange(WeekGenerator.LoadOf(Example(store)), 0.50, 0.75);

    private static Week Example(string store) =>
        WeekFile.Read(ExampleFiles.Read($"{store}.week.json")).Match(week => week, ExampleFiles.Fail<Week>);
}
