namespace SetWeek.Domain.Directions;

/// <summary>What was decided for one display, in a sentence.</summary>
public sealed record ScopingDecision(string Display, ScopingOutcome Outcome, string Sentence);

/// <summary>Elsewhere: it stands, in another zone than directed. NoAlternate: it stands, but its alternate never could.</summary>
public enum ScopingOutcome { Alternate, Dropped, Elsewhere, NoAlternate }
