using System.Globalization;
using SetWeek.Bench.Instances;
using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Tests.Bounds.Propagation;

/// <summary>
/// The propagated bound on the makespan of project instances (Kolisch and Sprecher 1997). It is at least the published critical
/// path and the published resource bound, and at most the best known makespan.
/// </summary>
public sealed class OpenInstanceBoundTests
{
    [OpenDataTheory("rcpsp")]
    [InlineData("j30", 120), InlineData("j60", 60), InlineData("j120", 40)]
    public void The_bound_lies_between_the_published_bounds_and_the_best_makespan(string set, int count)
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
