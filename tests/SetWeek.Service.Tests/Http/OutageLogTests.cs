using Microsoft.Extensions.Logging;
using Npgsql;
using SetWeek.Service.Http;

namespace SetWeek.Service.Tests.Http;

public sealed class OutageLogTests
{
    [Fact]
    public void An_outage_is_one_line_a_kind_and_minute_without_a_stack()
    {
        var (clock, log) = (new SetClock(), new Lines());
        var outages = new OutageLog(clock);
        for (var request = 0; request < 1000; request++)
        {
            outages.Report(log, new NpgsqlException("away", new TimeoutException()), $"t{request}");
            outages.Report(log, Postgres("57P03"), $"t{request}");
            outages.Report(log, Postgres("53300"), $"t{request}");
        }
        Assert.Equal(3, log.Written.Count);
        Assert.All(log.Written, line => Assert.Null(line.Error));
        Assert.All(log.Written, line => Assert.EndsWith(": t0", line.Text));

        clock.Now += TimeSpan.FromMinutes(2);
        outages.Report(log, Postgres("57P03"), "later");
        Assert.Equal(4, log.Written.Count);
        Assert.Contains("(999 requests before this one failed in the same way): later", log.Written[3].Text);
    }

    private static PostgresException Postgres(string state) => new("refused", "FATAL", "FATAL", state);

    private sealed class SetClock : TimeProvider
    {
        public DateTimeOffset Now { get; set; } = new(2027, 3, 8, 20, 0, 0, TimeSpan.Zero);

        public override DateTimeOffset GetUtcNow() => Now;
    }

    private sealed class Lines : ILogger
    {
        public List<(string Text, Exception? Error)> Written { get; } = [];

        public IDisposable? BeginScope<TState>(TState state) where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => true;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception,
            Func<TState, Exception?, string> formatter) => Written.Add((formatter(state, exception), exception));
    }
}
