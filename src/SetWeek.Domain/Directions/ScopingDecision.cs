namespace SetWeek.Domain.Directions;

/// <summary>A scoping decision on one display, with a sentence that explains it.</summary>
public sealed record ScopingDecision(string Display, ScopingOutcome Outcome, string Sentence);

/// <summary>
/// Alternate: replaced by its alternate. Dropped: not built. Elsewhere: built in a substitute zone. NoAlternate: built, but the
/// store could not build its alternate.
/// </summary>
public enum ScopingOutcome { Alternate, Dropped, Elsewhere, NoAlternate }
