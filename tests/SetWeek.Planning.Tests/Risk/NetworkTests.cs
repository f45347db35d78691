using System.Globalization;
using System.Text.Json;
using SetWeek.Model.Durations;
using SetWeek.Model.Tests;

namespace SetWeek.Planning.Tests.Risk;

/// <summary>
/// Compares the whole simulation with exact, published or independently simulated results. Tolerances are four standard errors.
/// </summary>
public sealed class NetworkTests
{
    private static readonly RiskOptions Many = new() { Runs = 100_000, Seed = 7 };

    /// <summary>
    /// The example of a free encyclopaedia's article on PERT (CC BY-SA), simulated independently with 400,000 runs
    /// (simulated_reference.json). A part of those results stands here; the next test reads all of them.
    /// </summary>
    private static PertNetwork Seven { get; } = new("seven-activities",
    [
        new("A", 2, 4, 6), new("B", 3, 5, 9), new("C", 4, 5, 7, "A"), new("D", 4, 6, 10, "A"), new("E", 4, 5, 7, "B", "C"),
        new("F", 3, 4, 8, "D"), new("G", 3, 5, 8, "E"),
    ]) { Deadline = 20 };

    [Theory]
    [InlineData(DurationDistribution.Beta, 19.507, 1.4302, 0.6362, 0.9896)]
    [InlineData(DurationDistribution.Triangular, 20.0232, 1.5617, 0.5025, 0.9649)]
    public void Seven_activities_match_an_independent_simulation(
        DurationDistribution distribution, double mean, double deviation, double by20, double criticalC)
    {
        var risk = Seven.Risk(Many with { Distribution = distribution });
        Assert.InRange(risk.Finish.MeanMinutes!.Value / PertNetwork.Unit - mean, -0.022, 0.022);
        Assert.InRange(risk.Finish.DeviationMinutes!.Value / PertNetwork.Unit - deviation, -0.016, 0.016);
        Assert.InRange(risk.Launch.Share - by20, -0.007, 0.007);
        Assert.InRange(risk.Tasks.Single(task => task.Task == "c").Criticality - criticalC, -0.005, 0.005);
    }

    [OpenDataFact("risk-and-earned-value")]
    public void All_figures_match_the_simulated_reference()
    {
        using var reference =
            JsonDocument.Parse(File.ReadAllBytes(OpenData.PathOf("risk-and-earned-value/simulated_reference.json")));
        foreach (var (name, distribution) in new[] { ("beta_pert", DurationDistribution.Beta),
            ("triangular", DurationDistribution.Triangular) })
        {
            var known = reference.RootElement.GetProperty(name);
            var risk = Seven.Risk(Many with { Distribution = distribution });
            AssertNear("mean", risk.Finish.MeanMinutes!.Value / PertNetwork.Unit, 0.022);
            AssertNear("P10", PertNetwork.Units(risk.Finish.P10), 0.04);
            AssertNear("P50", PertNetwork.Units(risk.Finish.P50), 0.04);
            AssertNear("P80", PertNetwork.Units(risk.Finish.P80), 0.04);
            AssertNear("P90", PertNetwork.Units(risk.Finish.P90), 0.05);
            AssertNear("P(T<=20)", risk.Launch.Share, 0.007);
            foreach (var critical in known.GetProperty("criticality_index").EnumerateObject())
            {
                var task = risk.Tasks.Single(task => string.Equals(task.Task, critical.Name, StringComparison.OrdinalIgnoreCase));
                Assert.InRange(task.Criticality - critical.Value.GetDouble(), -0.005, 0.005);
            }

            void AssertNear(string figure, double value, double tolerance) =>
                Assert.InRange(value - known.GetProperty(figure).GetDouble(), -tolerance, tolerance);
        }
    }

    /// <summary>Means and variances of independent durations add up exactly.</summary>
    [Theory]
    [InlineData(DurationDistribution.Beta)]
    [InlineData(DurationDistribution.Triangular)]
    public void A_series_has_the_sum_of_the_means_and_of_the_variances(DurationDistribution distribution)
    {
        PertNetwork.PertActivity[] row =
            [new("A", 2, 4, 6), new("B", 3, 5, 9, "A"), new("C", 1, 2, 9, "B"), new("D", 4, 5, 7, "C"), new("E", 1, 5, 5, "D")];
        var risk = new PertNetwork("series", row).Risk(Many with { Distribution = distribution });
        var mean = row.Sum(activity =>
            distribution == DurationDistribution.Beta ? PertBeta.Mean(activity.Points) : TriangularMean.Of(activity.Points));
        var deviation = Math.Sqrt(row.Sum(activity =>
            distribution == DurationDistribution.Beta ? PertBeta.Variance(activity.Points)
                : Triangular.Variance(activity.Points)));
        Assert.InRange(risk.Finish.MeanMinutes!.Value / PertNetwork.Unit - mean, -4 * deviation / Math.Sqrt(Many.Runs),
            4 * deviation / Math.Sqrt(Many.Runs));
        Assert.InRange(risk.Finish.DeviationMinutes!.Value / PertNetwork.Unit / deviation, 0.985, 1.015);
        Assert.All(risk.Tasks, task => Assert.Equal(1, task.Criticality));
        // The correlation with the sum is the share of the standard deviation; rank correlation is close to it.
        Assert.Equal("c", risk.Tasks.MaxBy(task => task.Cruciality)!.Task);
        Assert.Equal(risk.Tasks.Single(task => task.Task == "c").Sensitivity,
            Math.Sqrt(distribution == DurationDistribution.Beta ? PertBeta.Variance(row[2].Points)
                : Triangular.Variance(row[2].Points)) / deviation, 0.02);
    }

    /// <summary>The mean of the maximum of k independent durations is the integral of 1 - F(x)^k.</summary>
    [Theory]
    [InlineData(2)]
    [InlineData(5)]
    public void Parallel_activities_end_with_their_maximum(int count)
    {
        var chains = Enumerable.Range(1, count).Select(number => new PertNetwork.PertActivity($"T{number}", 2, 3, 8)).ToArray();
        var risk = new PertNetwork("parallel", chains).Risk(Many with { Distribution = DurationDistribution.Triangular });
        var mean = 2.0;
        for (var x = 2.0005; x < 8; x += 0.001) mean += 0.001 * (1 - Math.Pow(Triangular.Cdf(chains[0].Points, x), count));
        Assert.InRange(risk.Finish.MeanMinutes!.Value / PertNetwork.Unit - mean, -0.016, 0.016);
        // Each chain is equally likely to end last.
        Assert.All(risk.Tasks, task => Assert.InRange(task.Criticality - 1.0 / count, -0.007, 0.007));
    }

    /// <summary>
    /// A published Monte Carlo example (a free book on project risk, CC BY 4.0) gives 38.6 as the mean of three tasks of mean 10,
    /// because it multiplies raw samples by a Cholesky factor. The correct mean is 30 for any variances. The normal and the
    /// uniform task are symmetric triangles of the same variance here.
    /// </summary>
    [Fact]
    public void The_mean_of_a_sum_is_exact_where_a_published_one_is_wrong()
    {
        PertNetwork.PertActivity[] row = [Symmetric("A", 2 * Math.Sqrt(6)), Symmetric("B", 5, "A"),
            Symmetric("C", Math.Sqrt(8), "B")];
        var risk = new PertNetwork("three-tasks", row).Risk(Many with { Distribution = DurationDistribution.Triangular });
        var error = risk.Finish.DeviationMinutes!.Value / Math.Sqrt(Many.Runs) / PertNetwork.Unit;
        var mean = risk.Finish.MeanMinutes!.Value / PertNetwork.Unit;
        Assert.InRange(mean - 30, -4 * error, 4 * error);
        Assert.True(Math.Abs(38.6 - mean) > 100 * error);

        static PertNetwork.PertActivity Symmetric(string id, double half, params string[] after) =>
            new(id, 10 - half, 10, 10 + half, after);
    }

    /// <summary>
    /// The mean (o + 4m + p) / 6, as published with each example.
    /// </summary>
    [OpenDataFact("network-examples")]
    public void Means_match_published_PERT_examples()
    {
        var seen = 0;
        foreach (var example in Examples())
        {
            foreach (var activity in example.GetProperty("estimates_o_m_p").EnumerateObject())
            {
                var points = PointsOf(activity.Value);
                if (points.IsCertain) continue;
                if (example.GetProperty("te").TryGetProperty(activity.Name, out var te))
                    Assert.Equal(te.GetDouble(), PertBeta.Mean(points), 3);
                seen++;
            }
        }
        Assert.True(seen > 10, $"{seen} activities were seen.");
    }

    /// <summary>
    /// The published expected duration is that of the critical path pathAlone, so the path by itself has exactly this mean. The
    /// mean of the whole network is no smaller, since the maximum over several paths counts.
    /// </summary>
    [OpenDataFact("network-examples")]
    public void The_mean_of_the_critical_path_matches_and_the_network_is_no_shorter()
    {
        foreach (var example in Examples())
        {
            string[] critical = [.. example.GetProperty("critical").EnumerateArray().Select(id => id.GetString()!)];
            var activities = example.GetProperty("estimates_o_m_p").EnumerateObject().Select(estimate =>
            {
                var points = PointsOf(estimate.Value);
                return new PertNetwork.PertActivity(estimate.Name, points.Optimistic, points.MostLikely, points.Pessimistic,
                    [.. example.GetProperty("pred").GetProperty(estimate.Name).EnumerateArray().Select(id => id.GetString()!)]);
            }).ToArray();
            PertNetwork.PertActivity[] path = [.. activities.Where(activity => critical.Contains(activity.Id))
                .Select(activity => activity with { After = [.. activity.After.Where(critical.Contains)] })];
            var expected = example.GetProperty("expected_duration").GetDouble();
            var pathAlone = new PertNetwork("path", path).Risk(Many);
            var error = 4 * pathAlone.Finish.DeviationMinutes!.Value / Math.Sqrt(Many.Runs) / PertNetwork.Unit + 0.001;
            Assert.InRange(pathAlone.Finish.MeanMinutes!.Value / PertNetwork.Unit - expected, -error, error);
            Assert.True(new PertNetwork("whole", activities).Risk(
                Many).Finish.MeanMinutes!.Value / PertNetwork.Unit > expected - error);
        }
    }

    private static JsonElement[] Examples()
    {
        using var file = JsonDocument.Parse(File.ReadAllBytes(OpenData.PathOf("network-examples/pert_examples.json")));
        return [.. file.RootElement.EnumerateArray().Where(example => example.TryGetProperty("estimates_o_m_p", out _)
            && example.TryGetProperty("critical", out _)).Select(example => example.Clone())];
    }

    private static ThreePointEstimate PointsOf(JsonElement three)
    {
        double[] values = [.. three.EnumerateArray().Select(value => value.ValueKind == JsonValueKind.String
            ? double.Parse(value.GetString()!, CultureInfo.InvariantCulture) : value.GetDouble())];
        return new ThreePointEstimate(values[0], values[1], values[2]);
    }
}
