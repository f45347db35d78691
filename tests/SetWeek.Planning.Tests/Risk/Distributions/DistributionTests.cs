using System.Text.Json;
using SetWeek.Model.Durations;
using SetWeek.Model.Tests;

namespace SetWeek.Planning.Tests.Risk.Distributions;

public sealed class DistributionTests
{
    /// <summary>
    /// Reference values from closed forms and numerical integration, computed independently (a part estimate
    /// risk-and-earned-value/distribution_reference.json).
    /// </summary>
    [Theory]
    [InlineData(3, 5, 9, 5.666667, 1.555556, 4.549193, 5.535898, 7.450807)]
    [InlineData(2, 2, 5, 3.0, 0.5, 2.316718, 2.87868, 4.051317)]
    [InlineData(1, 5, 5, 3.666667, 0.888889, 2.788854, 3.828427, 4.794733)]
    public void Triangular_moments_and_quantiles_match_the_reference(
        double a, double m, double b, double mean, double variance, double p20, double p50, double p90)
    {
        var estimate = new ThreePointEstimate(a, m, b);
        Assert.Equal(mean, TriangularMean.Of(estimate), 6);
        Assert.Equal(variance, Triangular.Variance(estimate), 6);
        Assert.Equal([p20, p50, p90], [Quantile(0.2), Quantile(0.5), Quantile(0.9)]);

        double Quantile(double probability) => Math.Round(Triangular.Quantile(estimate, probability), 6);
    }

    /// <summary>From the same reference as the triangular values.</summary>
    [Theory]
    [InlineData(3, 5, 9, 5.333333, 1.222222, 4.31001, 5.25488, 6.86674)]
    [InlineData(2, 2, 5, 2.5, 0.178571, 2.13094, 2.38835, 3.10713)]
    [InlineData(1, 5, 5, 4.333333, 0.31746, 3.89912, 4.4822, 4.91659)]
    public void Beta_moments_and_quantiles_match_the_reference(
        double a, double m, double b, double mean, double variance, double p20, double p50, double p90)
    {
        var estimate = new ThreePointEstimate(a, m, b);
        Assert.Equal(mean, PertBeta.Mean(estimate), 6);
        Assert.Equal(variance, PertBeta.Variance(estimate), 6);
        Assert.Equal([p20, p50, p90], [Quantile(0.2), Quantile(0.5), Quantile(0.9)]);

        double Quantile(double probability) => Math.Round(PertBeta.Quantile(estimate, probability), 5);
    }

    [OpenDataFact("risk-and-earned-value")]
    public void All_moments_and_quantiles_match_the_reference()
    {
        using var reference =
            JsonDocument.Parse(File.ReadAllBytes(OpenData.PathOf("risk-and-earned-value/distribution_reference.json")));
        var checkedValues = 0;
        foreach (var distribution in reference.RootElement.GetProperty("triangular").EnumerateArray())
            checkedValues += Check(distribution, TriangularMean.Of, Triangular.Variance, Triangular.Quantile, 1e-6);
        foreach (var distribution in reference.RootElement.GetProperty("beta_pert_lambda4").EnumerateArray())
            checkedValues += Check(distribution, PertBeta.Mean, PertBeta.Variance, PertBeta.Quantile, 6e-6);
        Assert.Equal(18 * 9, checkedValues);
    }

    /// <summary>
    /// With whole parameters the regularised incomplete beta function is a polynomial (DLMF 8.17): a mode at a quarter of the
    /// range has the parameters 2 and 4, and I_x(2, 4) = 1 - (1 - x)^4 (1 + 4x).
    /// </summary>
    [Fact]
    public void The_beta_distribution_agrees_with_its_polynomial()
    {
        for (var x = 0.01; x < 1; x += 0.01)
            Assert.Equal(1 - Math.Pow(1 - x, 4) * (1 + 4 * x), PertBeta.Cdf(new ThreePointEstimate(0, 0.25, 1), x), 13);
    }

    /// <summary>With a mode at the upper end the distribution function is x^5, so the quantile is the fifth root.</summary>
    [Fact]
    public void The_beta_quantile_is_precise_far_into_the_tail()
    {
        for (var probability = 0.5; probability > Math.ScaleB(1, -40); probability *= 0.7)
            Assert.Equal(1, PertBeta.UnitQuantile(1, probability) / Math.Pow(probability, 0.2), 12);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(0.03)]
    [InlineData(0.25)]
    [InlineData(0.5)]
    [InlineData(0.8)]
    [InlineData(1)]
    public void The_error_of_the_quantile_table_is_below_two_millionths_of_the_range(double peak)
    {
        var table = BetaQuantileTable.Of(peak);
        // Also between the nodes, and in both tails as far as a sample can reach.
        for (var step = 0; step < 20_000; step++)
        {
            var probability = (step + 0.5) / 20_000;
            Assert.InRange(table.Quantile(probability) - PertBeta.UnitQuantile(peak, probability), -2e-6, 2e-6);
        }
        for (var tail = 0.3; tail > Math.ScaleB(1, -33); tail *= 0.93)
        {
            Assert.InRange(table.Quantile(tail) - PertBeta.UnitQuantile(peak, tail), -2e-6, 2e-6);
            Assert.InRange(table.Quantile(1 - tail) - PertBeta.UnitQuantile(peak, 1 - tail), -2e-6, 2e-6);
        }
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(0.5)]
    [InlineData(0.97)]
    public void A_quantile_is_the_inverse_of_the_distribution_function(double probability)
    {
        var estimate = new ThreePointEstimate(20, 30, 70);
        Assert.Equal(probability, PertBeta.Cdf(estimate, PertBeta.Quantile(estimate, probability)), 10);
        Assert.Equal(probability, Triangular.Cdf(estimate, Triangular.Quantile(estimate, probability)), 10);
    }

    /// <summary>For 1,000,000 samples, the share below each tenth is within four standard errors.</summary>
    [Fact]
    public void Samples_are_uniform_and_differ_by_task_seed_and_run()
    {
        var random = new CommonRandomNumbers(1, "wall.first-coat");
        var below = new int[11];
        var other = new CommonRandomNumbers(1, "wall.second-coat");
        var product = 0.0;
        for (var run = 0; run < 1_000_000; run++)
        {
            var sample = random.Uniform(run);
            for (var tenth = 1; tenth < 10; tenth++) below[tenth] += sample < tenth / 10.0 ? 1 : 0;
            product += (sample - 0.5) * (other.Uniform(run) - 0.5);
        }
        for (var tenth = 1; tenth < 10; tenth++) Assert.InRange(below[tenth] / 1e6 - tenth / 10.0, -0.002, 0.002);
        // The samples estimate two tasks are independent: correlation 0 with standard error 0.001.
        Assert.InRange(product / 1e6 * 12, -0.004, 0.004);
        Assert.NotEqual(random.Uniform(0), new CommonRandomNumbers(2, "wall.first-coat").Uniform(0));
    }

    [Fact]
    public void Unordered_points_are_rejected() => Assert.Throws<ArgumentException>(() => new ThreePointEstimate(3, 2, 5));

    private static int Check(JsonElement distribution, Func<ThreePointEstimate, double> mean,
        Func<ThreePointEstimate, double> variance, Func<ThreePointEstimate, double, double> quantile, double tolerance)
    {
        var estimate = Points(distribution);
        Assert.InRange(mean(estimate) - distribution.GetProperty("mean").GetDouble(), -tolerance, tolerance);
        Assert.InRange(variance(estimate) - distribution.GetProperty("variance").GetDouble(), -tolerance, tolerance);
        var count = 2;
        foreach (var known in distribution.GetProperty("quantiles").EnumerateObject())
        {
            Assert.InRange(quantile(estimate, double.Parse(known.Name,
                System.Globalization.CultureInfo.InvariantCulture)) - known.Value
                .GetDouble(), -tolerance, tolerance);
            count++;
        }
        return count;
    }

    private static ThreePointEstimate Points(JsonElement distribution) =>
        new(distribution.GetProperty("a").GetDouble(), distribution.GetProperty("mode")
            .GetDouble(), distribution.GetProperty("b").GetDouble());
}
