using OneOf;
using SetWeek.Model.Changes;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Trials;

/// <summary>
/// What is to be tried of a week, in its order: changes by their kind and, for whatever has no kind, edits of the week file.
/// </summary>
public sealed record Trial(IReadOnlyList<OneOf<WeekChange, WeekEdit>> Steps)
{
    private const int MostSteps = 50;

    public static Trial Read(JsonCursor cursor) => new(cursor.List(Step, MostSteps, least: 1));

    private static OneOf<WeekChange, WeekEdit> Step(JsonCursor cursor) =>
        cursor.Object<OneOf<WeekChange, WeekEdit>>(at => at.Has("op") ? WeekEdit.Read(at) : ChangeFormat.Read(at));

    /// <summary>
    /// The week with all of it done, or everything that stands in the way; pointers are into the list of steps.
    /// </summary>
    /// <param name="week">As it stands.</param>
    /// <param name="replan">What must fit the changed week too.</param>
    public OneOf<Week, FaultReport> ApplyTo(Week week, Replan? replan)
    {
        var faults = RemovedThoughBegun(week, replan).ToList();
        if (faults.Count > 0) return new FaultReport(faults);
        var file = WeekFile.Write(week);
        foreach (var (index, step) in Steps.Index())
        {
            // An edit may leave the week unfit for a moment, as long as the edits after it mend it before a change by kind comes.
            var next = step.Match(change => ApplyChange(file, change), edit => edit.ApplyTo(file));
            if (next.TryPickT1(out var wrong, out var edited))
                faults.AddRange(wrong.All.Select(fault => fault with { Pointer = $"/{index}{fault.Pointer}" }));
            else file = edited;
            // A few copies, each of the last, would fill any memory: what comes after is not looked at.
            if (file.Length <= JsonCursor.MaxBytes) continue;
            faults.Add(new Fault($"/{index}/path",
                $"The week file would be larger than {JsonCursor.MaxBytes:N0} bytes; copy less."));
            break;
        }
        if (faults.Count > 0) return new FaultReport(faults);
        return WeekFile.Read(file).Match(fit => CheckReplan(fit, replan), wrong => InvalidWeek(wrong, $"/{LastInvalidStep(week)}"));
    }

    /// <summary>Displays that work has begun on, and that a step would take away: they stay, whatever is tried.</summary>
    private IEnumerable<Fault> RemovedThoughBegun(Week week, Replan? replan)
    {
        if (replan is null || Problem.Of(week, replan) is not { Facts: { } facts } problem) yield break;
        foreach (var (index, step) in Steps.Index())
        {
            var gone = step.Match(change => (change as LeaveOut)?.Display ?? (change as UseAlternate)?.Display, _ => null);
            if (problem.Displays.FirstOrDefault(display => display.Id == gone) is { } display && facts.StaysPlaced[display.Index])
                yield return new Fault($"/{index}/display",
                    $"Work on “{display.Name}” has begun, so that it stays; try what makes the rest of it possible.");
        }
    }

    /// <summary>The step after which the week was never fit again.</summary>
    private int LastInvalidStep(Week week)
    {
        var (file, last, fit) = (WeekFile.Write(week), 0, true);
        foreach (var (index, step) in Steps.Index())
        {
            file = step.Match(change => ApplyChange(file, change), edit => edit.ApplyTo(file)).Match(edited => edited, _ => file);
            var was = fit;
            fit = WeekFile.Read(file).IsT0;
            if (was && !fit) last = index;
        }
        return last;
    }

    private static OneOf<Week, FaultReport> CheckReplan(Week week, Replan? replan) => replan is null ? week
        : ReplanFile.Check(week, replan).Match<OneOf<Week, FaultReport>>(_ => week, wrong => new FaultReport(
            [.. wrong.All.Select(fault => new Fault("", $"The week would not fit what has happened: {fault.Detail}"))]));

    /// <summary>What is tried, a sentence each.</summary>
    public IEnumerable<string> Sentences(Week week) => Steps.Select(step => step.Match(
        change => ChangeFormat.Faults(change, week).Count == 0 ? change.Sentence(week) : change.Kind,
        edit => $"{edit.Op} {edit.Path} of the week file."));

    private static OneOf<byte[], FaultReport> ApplyChange(byte[] file, WeekChange change) => WeekFile.Read(file).Match(
        week => ChangeFormat.Faults(change, week) is { Count: > 0 } faults ? new FaultReport(faults)
            : (OneOf<byte[], FaultReport>)WeekFile.Write(change.Apply(week)),
        wrong => InvalidWeek(wrong));

    private static FaultReport InvalidWeek(FaultReport wrong, string pointer = "") =>
        new([.. wrong.All.Select(fault => new Fault(pointer, $"The week would not be valid, at {fault.Pointer}: {fault.Detail}"))]);
}
