using System.Text;
using CsCheck;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Revisions;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Changes;
using SetWeek.Model.Files;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Revisions;

public sealed class RevisionPropertyTests
{
    /// <summary>Edits of each part of a week. The number varies what is set.</summary>
    private static readonly Func<Week, int, Week>[] Edits =
    [
        (week, n) => week.With(week.Nights[0] with { Closes = week.Nights[0].Closes.PlusMinutes(5 * n) }),
        (week, n) => week.With(week.Nights[^1] with { Bans = [new Ban("noisy", week.Nights[^1].Opens, week.Nights[^1].Opens.PlusMinutes(5 + n))] }),
        (week, n) => week.With(new Night($"extra-{n}", MondayOpens.PlusDays(10 + n), MondayOpens.PlusDays(10 + n).PlusHours(3))),
        // People have, or had, hours in these nights. Days or weeks later is another night under the same id.
        (week, n) => WithHours(week, n, n % 2 == 0 ? "monday" : "tuesday"),
        (week, n) => new Night(n % 2 == 0 ? "monday" : "tuesday", MondayOpens.PlusDays(20 + n), MondayOpens.PlusDays(20 + n).PlusHours(2)) is var later
            && week.Nights.Any(night => night.Id == later.Id) ? week : week.With(later),
        (week, n) => week.Nights.Count < 2 ? week : week.WithoutNight(week.Nights[0].Id),
        (week, n) => week.Nights.Count < 2 ? week : week.WithoutNight(week.Nights[n % week.Nights.Count].Id),
        (week, n) => week with { Launch = week.Launch.PlusHours(n) },
        (week, n) => week with { Rules = week.Rules with { MinRestMinutes = 600 + n, MinPeople = n % 3 } },
        (week, n) => week with { Goals = n % 2 == 0 ? [new GoalChoice(GoalId.Cost, n)] : Week.DefaultGoals, Hold = new() { Chance = 50 + n } },
        (week, n) => week.With(week.Store.Zones[n % 2] with { MaxPeople = 1 + n }),
        (week, n) => week.With(new Equipment($"tool-{n % 3}", n)),
        (week, n) => week.With(week.Tasks[n % week.Tasks.Count] with { ClosesZoneMinutes = n }),
        (week, n) => week.With(week.Tasks[0] with { Id = $"more-{n % 4}", Name = "More", After = [] }),
        (week, n) => week.Tasks.Count < 2 ? week : week.WithoutTask(week.Tasks[n % week.Tasks.Count].Id),
        (week, n) => week.With(week.Displays[n % week.Displays.Count] with { Commitment = DisplayCommitment.Want, Value = 1 + n }),
        (week, n) => week.With(new Display($"new-{n % 3}", "New", DisplayCommitment.Want) { Value = 5 }),
        // Of a display without tasks, a week does not show whether it is left out.
        (week, n) => Apply(week, new LeaveOut(week.Tasks[n % week.Tasks.Count].Display)),
        (week, n) => week.Displays.FirstOrDefault(display => display.Alternate is not null
            && week.Tasks.Any(task => task.Display == display.Id)) is { } display
            ? Apply(week, new UseAlternate(display.Id)) : week,
        (week, n) => week.With(week.Displays[0] with { Alternate = n % 2 == 0 ? null : new Alternate(week.Displays[1].Id, n) }),
        (week, n) => Apply(week, new KitEtaMoved("paint", n % 4 == 0 ? null : MondayOpens.PlusHours(n))),
        (week, n) => week with { Kits = [.. week.Kits.Where(kit => kit.Id != $"kit-{n % 3}"), new($"kit-{n % 3}", "Kit", n == 0 ? null : MondayOpens.PlusHours(n))] },
        (week, n) => Apply(week, new Absence(week.Crew[n % week.Crew.Count].Id, week.Nights[n % week.Nights.Count].Id)),
        (week, n) => Apply(week, new ExtraPerson(week.Nights[0].Id, "painting", 1 + n % 2)),
        (week, n) => week with { Crew = [week.Crew[0] with { RatePerHour = 1000 + n }, .. week.Crew.Skip(1)] },
        // What is pinned of somebody who is absent lapses.
        (week, n) => week.Crew[n % week.Crew.Count] is var member && member.Available.All(entry => entry.Night != week.Nights[0].Id)
            ? week : week with { Pins = [.. week.Pins, new ShiftPin(member.Id, week.Nights[0].Id) { Off = n % 2 == 0 }] },
        (week, n) => week with { Pins = [.. week.Pins.Skip(1)] },
        (week, n) => week with { Pins = [.. week.Pins, new StintPin(week.Tasks[0].Id) { Stint = 1, People = [week.Crew[0].Id] }] },
    ];

    /// <summary>
    /// The events of an accepted revision, folded onto the week, give the wanted week, up to the order of its lists. Three
    /// revisions follow one another, each of up to four edits.
    /// </summary>
    [Fact]
    public void The_events_lead_from_the_week_to_the_wanted_one()
    {
        var accepted = 0;
        Gen.Select(Gen.Int[0, Edits.Length - 1], Gen.Int[0, 20]).Array[1, 4].Array[3].Sample(revisions =>
        {
            var (week, crew) = (Given(), Crew);
            foreach (var edits in revisions)
            {
                var current = PlanningProblem.WeekOf(week, crew);
                var wanted = edits.Aggregate(current, (edited, edit) => Edits[edit.Item1](edited, edit.Item2));
                if (week.Revise(crew, wanted, MondayEvening, "lena").TryPickT0(out var revision, out _) is false) continue;
                Interlocked.Increment(ref accepted);
                week = revision.Events.Aggregate(week, (state, e) => StoreWeek.Evolve(state, e)!);
                crew = revision.Crew;
                Assert.Equal(Text(wanted), Text(PlanningProblem.WeekOf(week, crew)));
                Assert.True(WeekFile.Check(PlanningProblem.WeekOf(week, crew)).IsT0);
                Assert.Empty(week.Revise(crew, PlanningProblem.WeekOf(week, crew), MondayEvening, "lena").AsT0.Events);
                Assert.Equal(week.Week.Tasks.Select(task => task.Id).Order(), week.TaskOrigins.Keys.Order());
            }
        }, iter: 400);
        Assert.True(accepted > 400, $"Only {accepted} of 1,200 revisions were accepted.");
    }

    /// <summary>Ben comes later to that night, or leaves earlier.</summary>
    private static Week WithHours(Week week, int n, string id) => week.Nights.FirstOrDefault(night => night.Id == id) is not { } night ? week
        : week with
        {
            Crew = [.. week.Crew.Select(member => member.Id != "p2" ? member : member with
            {
                Available = [.. member.Available.Where(entry => entry.Night != id), n % 3 == 0
                    ? new Availability(id, night.Opens.PlusMinutes(5 * n)) : new Availability(id, To: night.Opens.PlusMinutes(30 + n))],
            })],
        };

    /// <summary>The week file with the lists in order of their ids, where the order has no meaning.</summary>
    private static string Text(Week week) => Sorted(DisplayExclusion.ExcludedFrom(week).Count > 0 ? week : DisplayExclusion.Lift(week));

    private static string Sorted(Week week) => Encoding.UTF8.GetString(WeekFile.Write(week with
    {
        Store = week.Store with { Equipment = [.. week.Store.Equipment.OrderBy(item => item.Id, StringComparer.Ordinal)] },
        Crew = [.. week.Crew.Select(member => member with { Available = [.. member.Available.OrderBy(entry => entry.Night, StringComparer.Ordinal)] })],
        Kits = [.. week.Kits.OrderBy(kit => kit.Id, StringComparer.Ordinal)],
        Displays = [.. week.Displays.OrderBy(display => display.Id, StringComparer.Ordinal)],
        Tasks = [.. week.Tasks.OrderBy(task => task.Id, StringComparer.Ordinal)],
        Pins = [.. week.Pins.OrderBy(pin => pin.ToString(), StringComparer.Ordinal)],
    }));

    private static Week Apply(Week week, WeekChange change) => change.Apply(week);
}
