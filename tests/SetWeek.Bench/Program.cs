using System.Globalization;
using SetWeek.Bench;
using SetWeek.Bench.Serving;
using SetWeek.Bench.Shifts;

switch (args)
{
    case ["weeks", .. var rest]:
        return WeeksBench.Run(rest);
    case ["replans", .. var rest]:
        var seconds = double.Parse(rest.ElementAtOrDefault(0) ?? "10", CultureInfo.InvariantCulture);
        return ReplansBench.Run(seconds, rest.ElementAtOrDefault(1) ?? "", rest.ElementAtOrDefault(2) == "effort");
    case ["shifts", .. var rest]:
        return ShiftsBench.Run(rest);
    case ["risk", .. var rest]:
        return RiskBench.Run(int.Parse(rest.ElementAtOrDefault(0) ?? "10000", CultureInfo.InvariantCulture));
    case ["remedies", .. var rest]:
        return RemediesBench.Run(double.Parse(rest.ElementAtOrDefault(0) ?? "8", CultureInfo.InvariantCulture),
            rest.ElementAtOrDefault(1) ?? "", int.Parse(rest.ElementAtOrDefault(2) ?? "80", CultureInfo.InvariantCulture));
    case ["hold", .. var rest]:
        return HoldBench.Run(rest.ElementAtOrDefault(0) ?? "10",
            rest.ElementAtOrDefault(1) ?? "", [.. rest.Skip(2).DefaultIfEmpty("80").Select(int.Parse)]);
    case ["rcpsp", .. var rest] when OpenBenchArguments.Read(rest) is { } open:
        return open.Projects();
    case ["multiskill", .. var rest] when OpenBenchArguments.Read(rest) is { } open:
        return open.Teams();
    case ["side-by-side", .. var rest] when OpenBenchArguments.Read(rest) is { } open:
        return open.SideBySide();
    case ["conflicts", .. var rest]:
        var limit = double.Parse(rest.ElementAtOrDefault(0) ?? "10", CultureInfo.InvariantCulture);
        return ConflictsBench.Run(TimeSpan.FromSeconds(limit), rest.ElementAtOrDefault(1) ?? "medium",
            rest.ElementAtOrDefault(2) ?? "");
    case ["service", .. var rest]:
        return await ServiceBench.Run(rest);
    case ["chain", .. var rest]:
        return await ChainBench.Run(rest);
    default:
        Console.Error.WriteLine("""
            Usage: ops/bench weeks [SECONDS] [small|medium|large|WEEK] [plans|nights|growth|cancel]...
                   ops/bench replans [AMOUNT [small|medium|large|"WEEK FACT" [effort]]]
                   ops/bench shifts [EFFORT] [small|medium|large|WEEK]... [GOAL,GOAL,...]
                   ops/bench conflicts [SECONDS [small|medium|large [WAY]]]
                   ops/bench risk [RUNS]
                   ops/bench remedies [EFFORT [small|medium|large|WEEK [CHANCE]]]
                   ops/bench hold [SECONDS|effort:UNITS [small|medium|large|WEEK [CHANCE]...]]
                   ops/bench service [SECONDS [CLIENTS...]]
                   ops/bench chain [STORES [EFFORT]]
                   ops/bench rcpsp|multiskill|side-by-side [DIR] [--set NAME] [--all | --thin N] [--seconds N] [--workers N]
                             [--schedules N]
            """);
        return 2;
}
