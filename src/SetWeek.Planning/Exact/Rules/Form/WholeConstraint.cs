using SetWeek.Model.Rules.Form;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Form;

/// <summary>The constraint of <see cref="WholeRule"/> in the exact model.</summary>
internal static class WholeConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var activity in model.Stints)
        {
            if (activity.Begun) continue;
            model.AddEquivalence(activity.Present, model.Placed[activity.Task!.Display]);
            if (activity.Stint!.Number > 1) model.AddPrecedence(model.Activities[activity.Index - 1], activity, 0);
        }
        foreach (var display in model.Problem.Displays)
        {
            if (display.AlternateOf is not null) continue;
            var placed = model.Placed[display.Index];
            if (display.Alternate is not { } alternate)
            {
                if (display.Must) model.FixTrue(placed);
                continue;
            }
            var alternatePlaced = model.Placed[alternate];
            if (!(model.StaysPlaced(display.Index) && model.StaysPlaced(alternate))) model.NotAll(placed, alternatePlaced);
            // A must is placed, or its alternate is. An alternate without tasks needs no work: it is placed where its display
            // is not.
            if (display.Must || model.Problem.Displays[alternate].Tasks.Count == 0)
                model.NotAll(placed.Not(), alternatePlaced.Not());
        }
    }
}
