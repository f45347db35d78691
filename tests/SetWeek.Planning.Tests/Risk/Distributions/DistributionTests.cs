using System.Text.Json;
using SetWeek.Model.Tests;
using SetWeek.Planning.Risk.Distributions;

namespace SetWeek.Planning.Tests.Risk.Distributions;

public sealed class DistributionTests
{
    /// <summary>
    /// Standard closed forms and numerical integration, computed apart (risk-and-earned-value, distribution_reference.json; a
    /// sample).
    /// </summary>
    [Theory]
    [InlineData(3, 5, 9, 5.666667, 1.555556, 4.549193, 5.535898, 7.450807)]
    [InlineData(2, 2, 5, 3.0, 0.5, 2.316718, 2.87868, 4.051317)]
    [InlineData(1, 5, 5, 3.666667, 0.888889, 2.788854, 3.828427, 4.794733)]
    public void Triangular_moments_and_quantiles_are_the_known_ones(
        double a, double m, double b, double mean, double variance, double p20, double p50, double p90)
    {
        var of = new ThreePointEstimate(a, m, b);
        Assert.Equal(mean, Triangular.Mean(of), 6);
        Assert.Equal(variance, Triangular.Variance(of), 6);
        Assert.Equal([p20, p50, p90], [Quantile(0.2), Quantile(0.5), Quantile(0.9)]);

        double Quantile(double chance) => Math.Round(Triangular.Quantile(of, chance), 6);
    }

    /// <summary>The same source.</summary>
    [Theory]
    [InlineData(3, 5, 9, 5.333333, 1.222222, 4.31001, 5.25488, 6.86674)]
    [InlineData(2, 2, 5, 2.5, 0.178571, 2.13094, 2.38835, 3.10713)]
    [InlineData(1, 5, 5, 4.333333, 0.31746, 3.89912, 4.4822, 4.91659)]
    public void Beta_moments_and_quantiles_are_the_known_ones(
        double a, double m, double b, double mean, double variance, double p20, double p50, double p90)
    {
        var of = new ThreePointEstimate(a, m, b);
        Assert.Equal(mean, PertBeta.Mean(of), 6);
        Assert.Equal(variance, PertBeta.Variance(of), 6);
        Assert.Equal([p20, p50, p90], [Quantile(0.2), Quantile(0.5), Quantile(0.9)]);

        double Quantile(double chance) => Math.Round(PertBeta.Quantile(of, chance), 5);
    }

    [OpenDataFact("risk-and-earned-value")]
    public void Every_moment_and_quantile_of_the_reference_is_met()
    {
        using var reference =
            JsonDocument.Parse(File.ReadAllBytes(OpenData.PathOf("risk-and-earned-value/distribution_reference.json")));
        var checkedOnes = 0;
        foreach (var one in reference.RootElement.GetProperty("triangular").EnumerateArray())
            checkedOnes += Check(one, Triangular.Mean, Triangular.Variance, Triangular.Quantile, 1e-6);
        foreach (var one in reference.RootElement.GetProperty("beta_pert_lambda4").EnumerateArray())
        {
            checkedOnes += Check(one, PertBeta.Mean, PertBeta.Variance, PertBeta.Quantile, 6e-6);
            Assert.Equal(one.GetProperty("classical_variance_((b-a)/6)^2").GetDouble(),
                PertBeta.RuleOfThumbVariance(Points(one)), 6);
        }
        Assert.Equal(18 * 9, checkedOnes);
    }

    /// <summary>
    /// DLMF 8.17: I(1; x) ... the beta function of whole parameters is a polynomial: I_x(2, 3) = 6x^2 - 8x^3 + 3x^4.
    /// </summary>
    [Fact]
    public void The_incomplete_beta_function_agrees_with_its_polynomial()
    {
        for (var x = 0.01; x < 1; x += 0.01)
            Assert.Equal(x * x * (6 - x * (8 - 3 * x)), IncompleteBeta.Of(x, 2, 3), 13);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(0.03)]
    [InlineData(0.25)]
    [InlineData(0.5)]
    [InlineData(0.8)]
    [InlineData(1)]
    public void The_table_is_off_by_less_than_two_millionths_of_the_range(double peak)
    {
        var table = BetaQuantileTable.Of(peak);
        // Between the nodes too, and into both tails as far as a draw reaches.
        for (var step = 0; step < 20_000; step++)
        {
            var chance = (step + 0.5) / 20_000;
            Assert.InRange(table.Quantile(chance) - PertBeta.UnitQuantile(peak, chance), -2e-6, 2e-6);
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
    public void A_quantile_undoes_its_distribution(double chance)
    {
        var of = new ThreePointEstimate(20, 30, 70);
        Assert.Equal(chance, PertBeta.Cdf(of, PertBeta.Quantile(of, chance)), 10);
        Assert.Equal(chance, Triangular.Cdf(of, Triangular.Quantile(of, chance)), 10);
    }

    /// <summary>1,000,000 draws: share below x within four standard errors, at every tenth.</summary>
    [Fact]
    public void Draws_are_spread_evenly_and_differ_by_task_seed_and_run()
    {
        var random = new CommonRandomNumbers(1, "wall.first-coat");
        var below = new int[11];
        var other = new CommonRandomNumbers(1, "wall.second-coat");
        var product = 0.0;
        for (var run = 0; run < 1_000_000; run++)
        {
            var drawn = random.Uniform(run);
            for (var tenth = 1; tenth < 10; tenth++) below[tenth] += drawn < tenth / 10.0 ? 1 : 0;
            product += (drawn - 0.5) * (other.Uniform(run) - 0.5);
        }
        for (var tenth = 1; tenth < 10; tenth++) Assert.InRange(below[tenth] / 1e6 - tenth / 10.0, -0.002, 0.002);
        // Two tasks have nothing to do with one another: correlation 0, of standard error 0.001.
        Assert.InRange(product / 1e6 * 12, -0.004, 0.004);
        Assert.NotEqual(random.Uniform(0), new CommonRandomNumbers(2, "wall.first-coat").Uniform(0));
    }

    [Fact]
    public void Points_that_are_not_in_order_are_no_estimate() => Assert.Throws<ArgumentException>(() => new ThreePointEstimate(3, 2, 5));

    private static int Check(JsonElement one, Func<ThreePointEstimate, double> mean, Func<ThreePointEstimate, double> variance,
        Func<ThreePointEstimate, double, double> quantile, double off)
    {
        var of = Points(one);
        Assert.InRange(mean(of) - one.GetProperty("mean").GetDouble(), -off, off);
        Assert.InRange(variance(of) - one.GetProperty("variance").GetDouble(), -off, off);
        var count = 2;
        foreach (var known in one.GetProperty("quantiles").EnumerateObject())
        {
            Assert.InRange(quantile(of, double.Parse(known.Name, System.Globalization.CultureInfo.InvariantCulture)) - known.Value
                .GetDouble(), -off, off);
            count++;
        }
        return count;
    }

    private static ThreePointEstimate Points(JsonElement one) =>
        new(one.GetProperty("a").GetDouble(), one.GetProperty("mode").GetDouble(), one.GetProperty("b").GetDouble());
}
