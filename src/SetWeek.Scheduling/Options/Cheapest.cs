namespace SetWeek.Scheduling.Options;

internal sealed class Cheapest : IOptionKind
{
    public string Id => "cheapest";

    public Direction For(Situation situation) => new("Least wages",
        "Wages as low as they can be; for that, people are told of more changes.",
        Direction.Ahead(situation.Problem.Week, "cost"));
}
