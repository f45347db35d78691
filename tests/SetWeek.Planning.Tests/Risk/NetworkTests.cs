using System.Globalization;
using System.Text.Json;
using SetWeek.Model.Tests;
using SetWeek.Planning.Risk.Distributions;

namespace SetWeek.Planning.Tests.Risk;

/// <summary>
/// The whole room against what is known exactly, published, or simulated elsewhere. Tolerances are four standard errors.
/// </summary>
public sealed class NetworkTests
{
    private static readonly RiskOptions Many = new() { Runs = 100_000, Seed = 7 };

    /// <summary>
    /// The worked table of a free encyclopaedia's article on PERT (CC BY-SA), 400,000 runs of it made apart
    /// (simulated_reference.json); a sample is retyped here, the test below reads the whole.
    /// </summary>
    private static PertNetwork Seven { get; } = new("seven-activities",
    [
        new("A", 2, 4, 6), new("B", 3, 5, 9), new("C", 4, 5, 7, "A"), new("D", 4, 6, 10, "A"), new("E", 4, 5, 7, "B", "C"),
        new("F", 3, 4, 8, "D"), new("G", 3, 5, 8, "E"),
    ]) { Deadline = 20 };

    [Theory]
    [InlineData(DurationDistribution.Beta, 19.507, 1.4302, 0.6362, 0.9896)]
    [InlineData(DurationDistribution.Triangular, 20.0232, 1.5617, 0.5025, 0.9649)]
    public void Seven_activities_end_as_they_do_when_simulated_elsewhere(
        DurationDistribution spreading, double mean, double deviation, double by20, double criticalC)
    {
        var risk = Seven.Risk(Many with { Distribution = spreading });
        Assert.InRange(risk.Finish.MeanMinutes!.Value / PertNetwork.Unit - mean, -0.022, 0.022);
        Assert.InRange(risk.Finish.DeviationMinutes!.Value / PertNetwork.Unit - deviation, -0.016, 0.016);
        Assert.InRange(risk.Launch.Share - by20, -0.007, 0.007);
        Assert.InRange(risk.Tasks.Single(task => task.Task == "c").Criticality - criticalC, -0.005, 0.005);
    }

    [OpenDataFact("risk-and-earned-value")]
    public void Every_figure_of_the_simulated_reference_is_met()
    {
        using var reference =
            JsonDocument.Parse(File.ReadAllBytes(OpenData.PathOf("risk-and-earned-value/simulated_reference.json")));
        foreach (var (name, spreading) in new[] { ("beta_pert", DurationDistribution.Beta), ("triangular", DurationDistribution.Triangular) })
        {
            var known = reference.RootElement.GetProperty(name);
            var risk = Seven.Risk(Many with { Distribution = spreading });
            Near("mean", risk.Finish.MeanMinutes!.Value / PertNetwork.Unit, 0.022);
            Near("P10", PertNetwork.Units(risk.Finish.P10), 0.04);
            Near("P50", PertNetwork.Units(risk.Finish.P50), 0.04);
            Near("P80", PertNetwork.Units(risk.Finish.P80), 0.04);
            Near("P90", PertNetwork.Units(risk.Finish.P90), 0.05);
            Near("P(T<=20)", risk.Launch.Share, 0.007);
            foreach (var critical in known.GetProperty("criticality_index").EnumerateObject())
            {
                var task = risk.Tasks.Single(task => string.Equals(task.Task, critical.Name, StringComparison.OrdinalIgnoreCase));
                Assert.InRange(task.Criticality - critical.Value.GetDouble(), -0.005, 0.005);
            }

            void Near(string figure, double ours, double off) =>
                Assert.InRange(ours - known.GetProperty(figure).GetDouble(), -off, off);
        }
    }

    /// <summary>Means and variances of independent lengths add up, exactly.</summary>
    [Theory]
    [InlineData(DurationDistribution.Beta)]
    [InlineData(DurationDistribution.Triangular)]
    public void A_series_has_the_sum_of_the_means_and_of_the_variances(DurationDistribution spreading)
    {
        PertNetwork.PertActivity[] row =
            [new("A", 2, 4, 6), new("B", 3, 5, 9, "A"), new("C", 1, 2, 9, "B"), new("D", 4, 5, 7, "C"), new("E", 1, 5, 5, "D")];
        var risk = new PertNetwork("series", row).Risk(Many with { Distribution = spreading });
        var mean = row.Sum(one => spreading == DurationDistribution.Beta ? PertBeta.Mean(one.Points) : Triangular.Mean(one.Points));
        var deviation = Math.Sqrt(
            row.Sum(one => spreading == DurationDistribution.Beta ? PertBeta.Variance(one.Points) : Triangular.Variance(one.Points)));
        Assert.InRange(risk.Finish.MeanMinutes!.Value / PertNetwork.Unit - mean, -4 * deviation / Math.Sqrt(Many.Runs),
            4 * deviation / Math.Sqrt(Many.Runs));
        Assert.InRange(risk.Finish.DeviationMinutes!.Value / PertNetwork.Unit / deviation, 0.985, 1.015);
        Assert.All(risk.Tasks, task => Assert.Equal(1, task.Criticality));
        // Correlation with a sum is the share of its deviation, near enough for ranks; the widest comes first.
        Assert.Equal("c", risk.Tasks.MaxBy(task => task.Cruciality)!.Task);
        Assert.Equal(risk.Tasks.Single(task => task.Task == "c").Sensitivity,
            Math.Sqrt(spreading == DurationDistribution.Beta ? PertBeta.Variance(row[2].Points)
                : Triangular.Variance(row[2].Points)) / deviation, 0.02);
    }

    /// <summary>The mean of the latest of k independent lengths is the integral of 1 - F(x)^k.</summary>
    [Theory]
    [InlineData(2)]
    [InlineData(5)]
    public void Parallel_chains_end_with_the_latest_of_them(int count)
    {
        var chains = Enumerable.Range(1, count).Select(number => new PertNetwork.PertActivity($"T{number}", 2, 3, 8)).ToArray();
        var risk = new PertNetwork("parallel", chains).Risk(Many with { Distribution = DurationDistribution.Triangular });
        var mean = 2.0;
        for (var x = 2.0005; x < 8; x += 0.001) mean += 0.001 * (1 - Math.Pow(Triangular.Cdf(chains[0].Points, x), count));
        Assert.InRange(risk.Finish.MeanMinutes!.Value / PertNetwork.Unit - mean, -0.016, 0.016);
        // Each is as likely as any other to be the last.
        Assert.All(risk.Tasks, task => Assert.InRange(task.Criticality - 1.0 / count, -0.007, 0.007));
    }

    /// <summary>
    /// A published Monte Carlo example (a free book on project risk, CC BY 4.0) gives 38.6 as the mean of three tasks of mean 10:
    /// it multiplied raw samples by a Cholesky factor. Whatever the spread, 30 is certain. The normal and the uniform task are
    /// put as symmetric triangles of the same variance.
    /// </summary>
    [Fact]
    public void The_wrong_published_mean_is_not_ours()
    {
        PertNetwork.PertActivity[] row = [Symmetric("A", 2 * Math.Sqrt(6)), Symmetric("B", 5, "A"), Symmetric("C", Math.Sqrt(8), "B")];
        var risk = new PertNetwork("three-tasks", row).Risk(Many with { Distribution = DurationDistribution.Triangular });
        var error = risk.Finish.DeviationMinutes!.Value / Math.Sqrt(Many.Runs) / PertNetwork.Unit;
        var mean = risk.Finish.MeanMinutes!.Value / PertNetwork.Unit;
        Assert.InRange(mean - 30, -4 * error, 4 * error);
        Assert.True(Math.Abs(38.6 - mean) > 100 * error);

        static PertNetwork.PertActivity Symmetric(string id, double half, params string[] after) =>
            new(id, 10 - half, 10, 10 + half, after);
    }

    /// <summary>te = (o + 4m + p) / 6 and the variance of the rule of thumb, as published with each example.</summary>
    [OpenDataFact("network-examples")]
    public void Published_PERT_examples_have_our_means_and_variances()
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
                if (example.GetProperty("variance").TryGetProperty(activity.Name, out var variance))
                    Assert.Equal(variance.GetDouble(), PertBeta.RuleOfThumbVariance(points), 3);
                seen++;
            }
        }
        Assert.True(seen > 10, $"{seen} activities were seen.");
    }

    /// <summary>
    /// The published expected duration is that of the critical path alone. That path by itself has it exactly; the whole network
    /// ends no sooner on average, since the latest of several paths counts.
    /// </summary>
    [OpenDataFact("network-examples")]
    public void Published_PERT_examples_end_when_their_critical_path_does_and_the_network_later()
    {
        foreach (var example in Examples())
        {
            string[] critical = [.. example.GetProperty("critical").EnumerateArray().Select(id => id.GetString()!)];
            var activities = example.GetProperty("estimates_o_m_p").EnumerateObject().Select(one =>
            {
                var points = PointsOf(one.Value);
                return new PertNetwork.PertActivity(one.Name, points.Optimistic, points.MostLikely, points.Pessimistic,
                    [.. example.GetProperty("pred").GetProperty(one.Name).EnumerateArray().Select(id => id.GetString()!)]);
            }).ToArray();
            PertNetwork.PertActivity[] path = [.. activities.Where(one => critical.Contains(one.Id))
                .Select(one => one with { After = [.. one.After.Where(critical.Contains)] })];
            var expected = example.GetProperty("expected_duration").GetDouble();
            var alone = new PertNetwork("path", path).Risk(Many);
            var error = 4 * alone.Finish.DeviationMinutes!.Value / Math.Sqrt(Many.Runs) / PertNetwork.Unit + 0.001;
            Assert.InRange(alone.Finish.MeanMinutes!.Value / PertNetwork.Unit - expected, -error, error);
            Assert.True(new PertNetwork("whole", activities).Risk(Many).Finish.MeanMinutes!.Value / PertNetwork.Unit > expected - error);
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
