using SetWeek.Model.Json;

namespace SetWeek.Model.Changes;

/// <summary>Every kind of change: a new one is its file and its line here.</summary>
internal static class AllChanges
{
    public static IReadOnlyDictionary<string, Func<JsonFields, WeekChange>> ByKind { get; } =
        new Dictionary<string, Func<JsonFields, WeekChange>>
        {
            [PersonNight.Name] = PersonNight.Read,
            [LongerWindow.Name] = LongerWindow.Read,
            [KitIn.Name] = KitIn.Read,
            [DueMoved.Name] = DueMoved.Read,
            [LeaveOut.Name] = LeaveOut.Read,
            [UseAlternate.Name] = UseAlternate.Read,
            [MoreRoom.Name] = MoreRoom.Read,
            [Absence.Name] = Absence.Read,
            [EquipmentCount.Name] = EquipmentCount.Read,
            [TaskMinutes.Name] = TaskMinutes.Read,
            [LaunchMoved.Name] = LaunchMoved.Read,
        };

    /// <summary>
    /// The change that an object's fields say, by its kind. Of a kind that is not known nothing else is said: nobody knows
    /// what its fields should be.
    /// </summary>
    public static WeekChange Read(JsonFields at)
    {
        var kind = at.Choice("kind", [.. ByKind.Keys]);
        if (at.Sound("kind")) return ByKind[kind](at);
        at.LetBe();
        return new LaunchMoved(default);
    }
}
