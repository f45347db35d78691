namespace SetWeek.Service.Tests;

public sealed class SettingsTests
{
    [Fact]
    public void Whatever_the_environment_does_not_say_is_as_usual()
    {
        var settings = Read(("SETWEEK_POSTGRES", "Host=here")).AsT0;
        Assert.Equal(("Host=here", 2, TimeSpan.FromSeconds(30)),
            (settings.Postgres, settings.AnswersAtOnce, settings.AnswerPatience));
    }

    [Fact]
    public void How_many_are_answered_at_once_and_how_long_one_waits_can_be_set()
    {
        var settings = Read(("SETWEEK_POSTGRES", "Host=here"), ("SETWEEK_ANSWERS_AT_ONCE", "4"),
            ("SETWEEK_ANSWER_PATIENCE", "5")).AsT0;
        Assert.Equal((4, TimeSpan.FromSeconds(5)), (settings.AnswersAtOnce, settings.AnswerPatience));
    }

    [Fact]
    public void Everything_that_is_missing_or_not_understood_is_said_at_once()
    {
        var faults = Read(("SETWEEK_POSTGRES", " "), ("SETWEEK_ANSWERS_AT_ONCE", "0"), ("SETWEEK_ANSWER_PATIENCE", "long")).AsT1;
        Assert.Equal(["SETWEEK_POSTGRES", "SETWEEK_ANSWERS_AT_ONCE", "SETWEEK_ANSWER_PATIENCE"],
            faults.Select(fault => fault.Split(' ', ':').First(word => word.StartsWith("SETWEEK", StringComparison.Ordinal))));
    }

    private static OneOf.OneOf<Settings, IReadOnlyList<string>> Read(params (string Name, string Value)[] given) =>
        Settings.From(name => given.FirstOrDefault(one => one.Name == name).Value);
}
