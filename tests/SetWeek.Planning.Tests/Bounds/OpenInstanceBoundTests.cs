using SetWeek.Model.Weeks;
using System.Globalization;
using SetWeek.Bench.Instances;
using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Tests.Outside;

namespace SetWeek.Planning.Tests.Bounds;

/// <summary>
/// The certificates' finish for open project instances (Kolisch and Sprecher 1997): no smaller than the published critical
/// path and the published resource bound, no larger than the best makespan known.
/// </summary>
public sealed class OpenInstanceBoundTests
{
    [OpenDataTheory("rcpsp")]
    [InlineData("j30", 120), InlineData("j60", 60), InlineData("j120", 40)]
    public void The_finish_lies_between_the_published_bounds(string set, int count)
    {
        var rows = File.ReadLines(OpenData.PathOf($"rcpsp/{set}.csv")).Skip(1).Select(line => line.Split(','))
            .Where(row => File.Exists(OpenData.PathOf($"rcpsp/{set}/{row[0]}.sm"))).Take(count).ToArray();
        Assert.Equal(count, rows.Length);
        foreach (var row in rows)
        {
            int Published(int column) => int.Parse(row[column], CultureInfo.InvariantCulture);
            var week = ProjectInstance.Read(row[0].Replace('_', '-'),
                File.ReadAllText(OpenData.PathOf($"rcpsp/{set}/{row[0]}.sm")));
            var finish = RootPropagation.Of(Problem.Of(week)).Bound(GoalId.Finish);
            Assert.True(Math.Max(Published(1), Published(2)) <= finish
                && finish <= Published(4), $"{row[0]}: {finish}, published {string.Join(' ', row)}");
        }
    }
}
