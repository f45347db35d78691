namespace SetWeek.Service.Tests;

public sealed class SettingsTests
{
    [Fact]
    public void Missing_variables_have_defaults()
    {
        var settings = Read(("SETWEEK_POSTGRES", "Host=here")).AsT0;
        Assert.Equal(("Host=here", 2, TimeSpan.FromSeconds(30)),
            (settings.Postgres, settings.AnswersAtOnce, settings.AnswerPatience));
    }

    [Fact]
    public void Numbers_can_be_set()
    {
        var settings = Read(("SETWEEK_POSTGRES", "Host=here"), ("SETWEEK_ANSWERS_AT_ONCE", "4"),
            ("SETWEEK_ANSWER_PATIENCE", "5"), ("SETWEEK_STATES_KEPT", "50"), ("SETWEEK_REPORTS_WAITING", "60")).AsT0;
        Assert.Equal((4, TimeSpan.FromSeconds(5), 50, 60),
            (settings.AnswersAtOnce, settings.AnswerPatience, settings.StatesKept, settings.ReportsWaiting));
    }

    [Fact]
    public void All_missing_and_invalid_variables_are_reported_at_once()
    {
        var faults = Read(("SETWEEK_POSTGRES", " "), ("SETWEEK_ANSWERS_AT_ONCE", "0"), ("SETWEEK_ANSWER_PATIENCE", "long"),
            ("SETWEEK_STATES_KEPT", "0"), ("SETWEEK_REPORTS_WAITING", "-1")).AsT1;
        Assert.Equal(["SETWEEK_POSTGRES", "SETWEEK_ANSWERS_AT_ONCE", "SETWEEK_ANSWER_PATIENCE", "SETWEEK_STATES_KEPT",
            "SETWEEK_REPORTS_WAITING"],
            faults.Select(fault => fault.Split(' ', ':').First(word => word.StartsWith("SETWEEK", StringComparison.Ordinal))));
    }

    private static OneOf.OneOf<Settings, IReadOnlyList<string>> Read(params (string Name, string Value)[] given) =>
        Settings.From(name => given.FirstOrDefault(variable => variable.Name == name).Value);
}
