using SetWeek.Model.Changes;

namespace SetWeek.Planning.Replanning;

/// <summary>
/// Replaces a display by its alternate: of the displays with an alternate, the one that the facts disturb most.
/// </summary>
internal sealed class AlternateInstead : IOptionKind
{
    public string Id => "use-alternate";

    public OptionSpecification? For(ReplanSituation situation)
    {
        var display = situation.Disturbed.FirstOrDefault(display =>
            display.Alternate is not null && situation.MayBeLeftOut(display)
            && situation.Problem.Displays[display.Alternate.Value].Tasks.Count > 0);
        if (display is null) return null;
        var (week, change) = (situation.Problem.Week, new UseAlternate(display.Id));
        return new($"{situation.Problem.Displays[display.Alternate!.Value].Name} instead", change.Sentence(week),
            change.Apply(week), true);
    }
}
