using System.Globalization;
using SetWeek.Bench;

switch (args)
{
    case ["weeks", .. var rest]:
        var seconds = double.Parse(rest.ElementAtOrDefault(0) ?? "10", CultureInfo.InvariantCulture);
        return WeeksBench.Run(TimeSpan.FromSeconds(seconds), rest.ElementAtOrDefault(1) ?? "");
    case ["risk", .. var rest]:
        return RiskBench.Run(int.Parse(rest.ElementAtOrDefault(0) ?? "10000", CultureInfo.InvariantCulture));
    default:
        Console.Error.WriteLine("Usage: ops/bench weeks [SECONDS [small|medium|large]]\n       ops/bench risk [RUNS]");
        return 2;
}
