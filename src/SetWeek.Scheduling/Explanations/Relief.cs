namespace SetWeek.Scheduling.Explanations;

/// <summary>
/// A requirement of a week and the same week without it. What a requirement is, a store lead decides: a kit, a due, an
/// absence are facts of the business; a rule of the planning problem is one too, dropped by a week file that does not ask it.
/// </summary>
internal sealed record Relief(string Rule, About About, string Sentence, Func<Week, Week> Lift)
{
    public Breach Breach => new(Rule, About, Sentence);
}
