using SetWeek.Bench;
using SetWeek.Scheduling;

if (args is ["load"])
{
    foreach (var (size, seed) in WeekGenerator.Fixed)
    {
        var week = WeekGenerator.Make(size, seed);
        Console.WriteLine($"{week.Id} tasks {week.Tasks.Count} load {WeekGenerator.LoadOf(week):P0}");
    }
    return 0;
}
Console.Error.WriteLine("Usage: ops/bench NAME");
return 2;
