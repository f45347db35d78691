namespace SetWeek.Planning.Replanning;

internal sealed class Cheapest : IOptionKind
{
    public string Id => "cheapest";

    public Direction For(Situation situation) => new("Least wages",
        "Low wages come first; for them, people are told of more changes.",
        Direction.Ahead(situation.Problem.Week, "cost"));
}
