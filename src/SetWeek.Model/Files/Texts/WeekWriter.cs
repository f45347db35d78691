using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Texts;

/// <summary>Writes a week as the bytes of its file.</summary>
internal static class WeekWriter
{
    public static byte[] Of(Week week) => JsonWriterExtensions.Bytes(json => json.Object(() =>
    {
        json.Text("week", week.Id);
        json.Text("currency", week.Currency);
        json.NumberUnlessDefault("gridMinutes", week.GridMinutes, defaultValue: 5);
        json.Time("launch", week.Launch);
        json.Object("store", () => Store(json, week.Store));
        json.List("nights", week.Nights, night => Night(json, night));
        json.List("crew", week.Crew, member => CrewMember(json, member));
        json.List("kits", week.Kits, kit => Kit(json, kit));
        json.List("displays", week.Displays, display => Display(json, display));
        json.List("tasks", week.Tasks, task => TaskWriter.Task(json, task));
        json.Object("rules", () => Rules(json, week.Rules));
        if (week.Hold != new HoldTarget()) json.Object("hold", () => Hold(json, week.Hold));
        json.ListUnlessEmpty("pins", week.Pins, pin => Pin(json, pin));
        Goals(json, "goals", week.Goals, Week.DefaultGoals);
        Goals(json, "replanGoals", week.ReplanGoals, Week.DefaultReplanGoals);
    }));

    private static void Store(Utf8JsonWriter json, Store store)
    {
        json.Text("id", store.Id);
        json.Text("timeZone", store.TimeZone);
        json.List("zones", store.Zones, zone => Zone(json, zone));
        json.List("equipment", store.Equipment, piece => json.Object(() =>
        {
            json.Text("id", piece.Id);
            json.Number("count", piece.Count);
        }));
    }

    internal static void Zone(Utf8JsonWriter json, Zone zone) => json.Object(() =>
    {
        json.Text("id", zone.Id);
        json.Text("name", zone.Name);
        json.Number("maxPeople", zone.MaxPeople);
        if (zone.CleanDown is { } down)
            json.Object("cleanDown", () =>
            {
                json.Number("minutes", down.Minutes);
                TaskWriter.SkillRequirements(json, down.Roles);
            });
        json.NumberUnlessDefault("tradePerDay", zone.TradePerDay, defaultValue: 0);
    });

    internal static void Night(Utf8JsonWriter json, Night night) => json.Object(() =>
    {
        json.Text("id", night.Id);
        json.Time("opens", night.Opens);
        json.Time("closes", night.Closes);
        json.ListUnlessEmpty("bans", night.Bans, ban => json.Object(() =>
        {
            json.Text("trait", ban.Trait);
            json.Time("from", ban.From);
            json.Time("to", ban.To);
        }));
    });

    internal static void CrewMember(Utf8JsonWriter json, CrewMember member) => json.Object(() =>
    {
        json.Text("id", member.Id);
        json.Text("name", member.Name);
        json.Object("skills", () =>
        {
            foreach (var (skill, level) in member.Skills.OrderBy(pair => pair.Key, StringComparer.Ordinal))
                json.Number(skill, level);
        });
        json.Flag("keyholder", member.Keyholder);
        json.Flag("under18", member.Under18);
        json.Number("ratePerHour", member.RatePerHour);
        json.List("available", member.Available, entry => json.Object(() =>
        {
            json.Text("night", entry.Night);
            json.Time("from", entry.From);
            json.Time("to", entry.To);
        }));
        json.ListUnlessEmpty("commitments", member.Commitments, busy => json.Object(() =>
        {
            json.Time("from", busy.From);
            json.Time("to", busy.To);
        }));
        json.Number("maxMinutesPerNight", member.MaxMinutesPerNight);
        json.Number("maxNights", member.MaxNights);
        json.NumberUnlessDefault("minutesAlready", member.MinutesAlready, defaultValue: 0);
    });

    internal static void Kit(Utf8JsonWriter json, Kit kit) => json.Object(() =>
    {
        json.Text("id", kit.Id);
        json.Text("name", kit.Name);
        if (kit.Eta is null) json.WriteNull("eta");
        else json.Time("eta", kit.Eta);
        json.ListUnlessEmpty("lines", kit.Lines, line => json.Object(() =>
        {
            json.Text("item", line.Item);
            json.Number("expected", line.Expected);
            json.Number("received", line.Received);
            json.Number("damaged", line.Damaged);
            json.Flag("settled", line.Settled);
        }));
    });

    internal static void Display(Utf8JsonWriter json, Display display) => json.Object(() =>
    {
        json.Text("id", display.Id);
        json.Text("name", display.Name);
        json.Text("commitment", display.Commitment == DisplayCommitment.Must ? "must" : "want");
        if (display.Commitment == DisplayCommitment.Want) json.Number("value", display.Value);
        if (display.Alternate is { } alternate)
            json.Object("alternate", () =>
            {
                json.Text("display", alternate.Display);
                json.Number("value", alternate.Value);
            });
    });

    internal static void Rules(Utf8JsonWriter json, RuleSet rules)
    {
        json.Number("minRestMinutes", rules.MinRestMinutes);
        json.Number("joinMinutes", rules.JoinMinutes);
        json.Number("minShiftMinutes", rules.MinShiftMinutes);
        json.Number("maxShiftMinutes", rules.MaxShiftMinutes);
        json.Number("shiftGridMinutes", rules.ShiftGridMinutes);
        json.Number("breakAfterMinutes", rules.BreakAfterMinutes);
        json.Number("breakMinutes", rules.BreakMinutes);
        json.Number("breakClearMinutes", rules.BreakClearMinutes);
        json.Number("briefingMinutes", rules.BriefingMinutes);
        json.ListUnlessEmpty("company", rules.Company, company => json.Object(() =>
        {
            json.Text("trait", company.Trait);
            json.Number("people", company.People);
        }));
        json.Number("minPeople", rules.MinPeople);
        json.Flag("keyholderPresent", rules.KeyholderPresent);
        json.Number("openingMinutes", rules.OpeningMinutes);
        json.Number("closingMinutes", rules.ClosingMinutes);
        json.Number("overtimeAfterMinutes", rules.OvertimeAfterMinutes);
        json.Number("overtimePercent", rules.OvertimePercent);
        json.Number("launchBufferMinutes", rules.LaunchBufferMinutes);
        json.Number("noticeMinutes", rules.NoticeMinutes);
        json.Number("reservePercent", rules.ReservePercent);
        if (rules.Under18 is { } young)
            json.Object("under18", () =>
            {
                json.Text("until", young.Until is { } until ? TimePatterns.Write(until) : null);
                json.ListUnlessEmpty("barred", young.Barred, json.WriteStringValue);
                json.Number("minRestMinutes", young.MinRestMinutes);
                json.Number("maxShiftMinutes", young.MaxShiftMinutes);
                json.Number("breakAfterMinutes", young.BreakAfterMinutes);
                json.Number("breakMinutes", young.BreakMinutes);
            });
    }

    private static void Hold(Utf8JsonWriter json, HoldTarget hold)
    {
        json.Number("chance", hold.Chance);
        json.Number("graceMinutes", hold.GraceMinutes);
        json.Number("scenarios", hold.Scenarios);
        json.Number("seed", hold.Seed);
    }

    internal static void Pin(Utf8JsonWriter json, Pin pin) => json.Object(() =>
    {
        switch (pin)
        {
            case StintPin stint:
                json.Text("task", stint.Task);
                json.Number("stint", stint.Stint);
                json.Text("night", stint.Night);
                json.Time("from", stint.From);
                json.ListUnlessEmpty("people", stint.People, json.WriteStringValue);
                break;
            case ShiftPin shift:
                json.Text("person", shift.Person);
                json.Text("night", shift.Night);
                json.Flag("off", shift.Off);
                json.Time("from", shift.From);
                json.Time("to", shift.To);
                break;
        }
    });

    private static void Goals(
        Utf8JsonWriter json, string name, IReadOnlyList<GoalChoice> goals, IReadOnlyList<GoalChoice> defaults)
    {
        if (goals.SequenceEqual(defaults)) return;
        json.List(name, goals, choice =>
        {
            if (choice.TolerancePercent == 0) json.WriteStringValue(choice.Goal.Text());
            else json.Object(() =>
            {
                json.Text("goal", choice.Goal.Text());
                json.Number("tolerancePercent", choice.TolerancePercent);
            });
        });
    }
}
