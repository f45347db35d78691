using SetWeek.Model.Json;

namespace SetWeek.Model.Changes;

/// <summary>Every kind of change: a new one is its file and its line here.</summary>
internal static class AllChanges
{
    public static IReadOnlyDictionary<string, Func<JsonFields, WeekChange>> ByKind { get; } =
        new Dictionary<string, Func<JsonFields, WeekChange>>
        {
            [ExtraPerson.KindName] = ExtraPerson.Read,
            [NightWindowMoved.KindName] = NightWindowMoved.Read,
            [KitEtaMoved.KindName] = KitEtaMoved.Read,
            [DueMoved.KindName] = DueMoved.Read,
            [LeaveOut.KindName] = LeaveOut.Read,
            [UseAlternate.KindName] = UseAlternate.Read,
            [ZoneCapacity.KindName] = ZoneCapacity.Read,
            [Absence.KindName] = Absence.Read,
            [EquipmentCount.KindName] = EquipmentCount.Read,
            [TaskMinutes.KindName] = TaskMinutes.Read,
            [LaunchMoved.KindName] = LaunchMoved.Read,
        };

    /// <summary>
    /// The change that an object's fields say, by its kind. Of a kind that is not known nothing else is said: nobody knows
    /// what its fields should be.
    /// </summary>
    public static WeekChange Read(JsonFields at)
    {
        var kind = at.Choice("kind", [.. ByKind.Keys]);
        if (at.IsFaultFree("kind")) return ByKind[kind](at);
        at.IgnoreRest();
        return new LaunchMoved(default);
    }
}
