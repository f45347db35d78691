using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Explaining.Reasons.Holding;

/// <summary>
/// An instance of a rule that keeps a stint from starting at some moments; told apart by being another object.
/// </summary>
/// <param name="rule">Its id.</param>
/// <param name="about">As the check says what an instance is about.</param>
/// <param name="sentence">What a lead reads.</param>
/// <param name="bars">The starts that it bars, minutes, half-open; empty where they were found one by one.</param>
internal sealed class Hold(string rule, About about, string sentence, params IReadOnlyList<Span> bars)
{
    public string Rule => rule;

    /// <summary>The other work that is in the way.</summary>
    public About? By { get; init; }

    /// <summary>The minute from which it holds no more.</summary>
    public int? Until { get; init; }

    public bool Stops(int start) => bars.Any(span => span.From <= start && start < span.To);

    /// <summary>Bars every start of the span.</summary>
    public bool StopsAll(Span starts) => bars.Any(span => span.Contains(starts));

    /// <summary>The first of the barred starts that lie together with this one.</summary>
    public int BackTo(int start) => bars.Where(span => span.From <= start && start < span.To).Min(span => span.From);

    public Held Told(Problem problem) => new(rule, about, sentence)
    {
        By = By, Until = Until is { } minute and < Problem.Never ? problem.Grid.TimeOf(minute) : null,
    };
}
