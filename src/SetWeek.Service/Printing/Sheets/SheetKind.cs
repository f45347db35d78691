using SetWeek.Domain.Nights;

namespace SetWeek.Service.Printing.Sheets;

/// <summary>A sheet that a night can be printed as.</summary>
/// <param name="Id">As in its address: "lead".</param>
/// <param name="Name">As in a link to it.</param>
/// <param name="IsOfPerson">Whether it can be narrowed to the work of one person.</param>
/// <param name="Print">The sheets of the night; of the given person if it is narrowed.</param>
public sealed record SheetKind(
    string Id, string Name, bool IsOfPerson, Func<NightFacts, SheetPerson?, IReadOnlyList<PaperSheet>> Print)
{
    public static IReadOnlyList<SheetKind> All { get; } =
    [
        new("lead", "Lead", false, (facts, _) => [LeadSheet.Of(facts)]),
        new("crew", "Crew", true, (facts, person) => person is not null ? [CrewSheet.Of(facts, person)] : Everybody(facts)),
        new("painter", "Painter", true, (facts, person) => [PainterSheet.Of(facts, person)]),
        new("dresser", "Dresser", true, DresserSheet.Of),
        new("keyholder", "Keyholder", false, (facts, _) => [KeyholderSheet.Of(facts)]),
        new("receiver", "Receiver", false, (facts, _) => [ReceiverSheet.Of(facts)]),
        new("reviewer", "Reviewer", false, (facts, _) => [ReviewerSheet.Of(facts)]),
    ];

    public static SheetKind? Find(string id) => All.FirstOrDefault(kind => kind.Id == id);

    /// <summary>A sheet for each person of the night, in the order of their shifts.</summary>
    private static IReadOnlyList<PaperSheet> Everybody(NightFacts facts) => facts.People.Count > 0
        ? [.. facts.People.Select(person => CrewSheet.Of(facts, person))]
        : [facts.SheetOf("Crew", [new TextBlock("", "Nobody is planned in this night.")])];
}
