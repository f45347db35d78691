using NodaTime;
using SetWeek.Service.Clocks;

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

    /// <summary>In a connection string a semicolon ends a value, unless the value is quoted.</summary>
    [Theory]
    [InlineData("a;b"), InlineData("a'b"), InlineData("a\"b;c"), InlineData(" spaced "), InlineData("x=y")]
    public void A_password_may_have_any_characters(string password)
    {
        var settings = Read(("SETWEEK_POSTGRES", "Host=here;Username=setweek"), ("SETWEEK_POSTGRES_PASSWORD", password)).AsT0;
        var read = new Npgsql.NpgsqlConnectionStringBuilder(settings.Postgres);
        Assert.Equal(("here", "setweek", password), (read.Host, read.Username, read.Password));
    }

    [Theory]
    [InlineData("Host=here;Password=a;b"), InlineData("nonsense"), InlineData("Host=here;Port=many")]
    public void A_connection_string_that_cannot_be_read_is_reported_without_its_password(string given)
    {
        var fault = Assert.Single(Read(("SETWEEK_POSTGRES", given)).AsT1);
        Assert.StartsWith("SETWEEK_POSTGRES is not an Npgsql connection string", fault);
        Assert.DoesNotContain("a;b", fault);
    }

    [Fact]
    public void Webhooks_are_tried_for_three_days_unless_set_otherwise()
    {
        // Standard Webhooks 1.0.0, the example of a retry schedule: the tenth attempt comes 75:35:05 after the first.
        var waits = Read(("SETWEEK_POSTGRES", "Host=here")).AsT0.WebhookWaits;
        Assert.Equal(new TimeSpan(75, 35, 5), waits.Aggregate((sum, wait) => sum + wait));
        var settings = Read(("SETWEEK_POSTGRES", "Host=here"), ("SETWEEK_WEBHOOK_WAITS", "1, 20"),
            ("SETWEEK_WEBHOOK_TARGETS", "loopback")).AsT0;
        Assert.Equal([TimeSpan.FromSeconds(1), TimeSpan.FromSeconds(20)], settings.WebhookWaits);
        Assert.True(settings.WebhookLoopback);
        Assert.Equal(2, Read(("SETWEEK_POSTGRES", "Host=here"), ("SETWEEK_WEBHOOK_WAITS", "1,soon"),
            ("SETWEEK_WEBHOOK_TARGETS", "everywhere")).AsT1.Count);
    }

    [Fact]
    public void The_clock_is_the_system_s_unless_a_file_holds_the_time()
    {
        Assert.Null(Read(("SETWEEK_POSTGRES", "Host=here")).AsT0.ClockFile);
        var file = Path.GetTempFileName();
        File.WriteAllText(file, "2027-03-08T21:30:00Z\n");
        Assert.Equal(file, Read(("SETWEEK_POSTGRES", "Host=here"), ("SETWEEK_CLOCK_FILE", file)).AsT0.ClockFile);
        var now = PlanningClock.OfFile(file);
        Assert.Equal(Instant.FromUtc(2027, 3, 8, 21, 30), now());
        File.WriteAllText(file, "2027-03-08T23:45:10+01:00");
        Assert.Equal(Instant.FromUtc(2027, 3, 8, 22, 45, 10), now());
        File.WriteAllText(file, "tonight");
        Assert.Contains("SETWEEK_CLOCK_FILE", Assert.Single(
            Read(("SETWEEK_POSTGRES", "Host=here"), ("SETWEEK_CLOCK_FILE", file)).AsT1));
        File.Delete(file);
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
