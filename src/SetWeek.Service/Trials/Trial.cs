using OneOf;
using SetWeek.Model.Changes;
using SetWeek.Model.Changes.Format;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Trials;

/// <summary>
/// The steps of a trial, in order. A step is a change of a known kind or, for anything else, an edit of the week file.
/// </summary>
public sealed record Trial(IReadOnlyList<OneOf<WeekChange, WeekEdit>> Steps)
{
    private const int MostSteps = 50;

    public static Trial Read(JsonCursor cursor) => new(cursor.List(Step, MostSteps, least: 1));

    private static OneOf<WeekChange, WeekEdit> Step(JsonCursor cursor) =>
        cursor.Object<OneOf<WeekChange, WeekEdit>>(json => json.Has("op") ? WeekEdit.Read(json) : ChangeFormat.Read(json));

    /// <summary>
    /// Applies all steps to a week. The result is the changed week, or the faults with pointers into the list of steps.
    /// </summary>
    /// <param name="week">The unchanged week.</param>
    /// <param name="replan">The published plan and the reported work, which must be valid in the changed week too.</param>
    public OneOf<Week, FaultReport> ApplyTo(Week week, Replan? replan)
    {
        var faults = RemovedThoughBegun(week, replan).ToList();
        if (faults.Count > 0) return new FaultReport(faults);
        var file = WeekFile.Write(week);
        foreach (var (index, step) in Steps.Index())
        {
            // The week may be invalid after an edit, as long as later edits correct it before the next change of a known kind.
            var next = step.Match(change => ApplyChange(file, change), edit => edit.ApplyTo(file));
            if (next.TryPickT1(out var invalid, out var edited))
                faults.AddRange(invalid.All.Select(fault => fault with { Pointer = $"/{index}{fault.Pointer}" }));
            else file = edited;
            // Repeated copies could grow the file exponentially, so the size is checked after each step.
            if (file.Length <= JsonCursor.MaxBytes) continue;
            faults.Add(new Fault($"/{index}/path",
                $"The week file would be larger than {JsonCursor.MaxBytes:N0} bytes; copy less."));
            break;
        }
        if (faults.Count > 0) return new FaultReport(faults);
        return WeekFile.Read(file).Match(changed => CheckReplan(changed, replan),
            invalid => InvalidWeek(invalid, $"/{LastInvalidStep(week)}"));
    }

    /// <summary>A fault for each step that would remove a display on which work has begun.</summary>
    private IEnumerable<Fault> RemovedThoughBegun(Week week, Replan? replan)
    {
        if (replan is null || Problem.Of(week, replan) is not { Facts: { } facts } problem) yield break;
        foreach (var (index, step) in Steps.Index())
        {
            var removed = step.Match(change => (change as LeaveOut)?.Display ?? (change as UseAlternate)?.Display, _ => null);
            if (problem.Displays.FirstOrDefault(display => display.Id == removed) is { } display
                && facts.StaysPlaced[display.Index])
                yield return new Fault($"/{index}/display",
                    $"Work on “{display.Name}” has begun, so it cannot be removed. Try a change that lets it be finished.");
        }
    }

    /// <summary>The step after which the week stays invalid.</summary>
    private int LastInvalidStep(Week week)
    {
        var (file, last, valid) = (WeekFile.Write(week), 0, true);
        foreach (var (index, step) in Steps.Index())
        {
            file = step.Match(change => ApplyChange(file, change), edit => edit.ApplyTo(file)).Match(edited => edited, _ => file);
            var wasValid = valid;
            valid = WeekFile.Read(file).IsT0;
            if (wasValid && !valid) last = index;
        }
        return last;
    }

    private static OneOf<Week, FaultReport> CheckReplan(Week week, Replan? replan) => replan is null ? week
        : ReplanFile.Check(week, replan).Match<OneOf<Week, FaultReport>>(_ => week, invalid => new FaultReport(
            [.. invalid.All.Select(fault =>
                new Fault("", $"The changed week would contradict what has happened: {fault.Detail}"))]));

    /// <summary>Describes each step in a sentence.</summary>
    public IEnumerable<string> Sentences(Week week) => Steps.Select(step => step.Match(
        change => ChangeFormat.Faults(change, week).Count == 0 ? change.Sentence(week) : change.Kind,
        edit => $"{edit.Op} {edit.Path} of the week file."));

    private static OneOf<byte[], FaultReport> ApplyChange(byte[] file, WeekChange change) => WeekFile.Read(file).Match(
        week => ChangeFormat.Faults(change, week) is { Count: > 0 } faults ? new FaultReport(faults)
            : (OneOf<byte[], FaultReport>)WeekFile.Write(change.Apply(week)),
        invalid => InvalidWeek(invalid));

    private static FaultReport InvalidWeek(FaultReport faults, string pointer = "") =>
        new([.. faults.All.Select(fault =>
            new Fault(pointer, $"The week would not be valid, at {fault.Pointer}: {fault.Detail}"))]);
}
