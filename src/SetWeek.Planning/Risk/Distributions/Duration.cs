namespace SetWeek.Planning.Risk.Distributions;

/// <summary>
/// How long a piece of work takes in each run: <c>Fixed</c> minutes and, where it is uncertain, a drawn part beside.
/// </summary>
/// <param name="Fixed">Minutes that are certain.</param>
/// <param name="Drawn">What is drawn; null: nothing.</param>
internal sealed record Duration(double Fixed, Drawn? Drawn)
{
    public static Duration Of(double minutes) => new(minutes, null);

    /// <summary>Most likely, in minutes: what the crew reckons with when it asks whether a piece still fits.</summary>
    public double Expected => Fixed + (Drawn?.Estimate.Likely * Drawn?.Scale ?? 0);

    public void Fill(Span<float> minutes, int firstRun)
    {
        if (Drawn is null) minutes.Fill((float)Fixed);
        else Drawn.Fill(minutes, firstRun, Fixed);
    }
}

/// <param name="Estimate">Of the whole task in its first mode, in minutes.</param>
/// <param name="Scale">What this piece is of that: its mode's minutes over the first's, a stint's part, what remains.</param>
/// <param name="Past">The share of chance that has gone by: of running work only what is longer than it has taken is
/// left.</param>
internal sealed record Drawn(ThreePoint Estimate, double Scale, double Past, Spreading Spreading, Draws Draws)
{
    private readonly BetaTable? table = Spreading == Spreading.Beta ? BetaTable.Of(Estimate.Peak) : null;

    public void Fill(Span<float> minutes, int firstRun, double fixedMinutes)
    {
        for (var lane = 0; lane < minutes.Length; lane++)
        {
            var chance = Past + (1 - Past) * Draws.Of(firstRun + lane);
            var share = table?.Share(chance) ?? Triangular.Share(Estimate.Peak, chance);
            minutes[lane] = (float)(fixedMinutes + Scale * (Estimate.Optimistic + Estimate.Range * share));
        }
    }
}
