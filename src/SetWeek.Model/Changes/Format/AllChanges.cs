using SetWeek.Model.Json;

namespace SetWeek.Model.Changes.Format;

/// <summary>Every kind of change. A new kind is added to this list.</summary>
internal static class AllChanges
{
    /// <summary>By the value of "kind": the reader of the other fields.</summary>
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
            [LaunchTimeMoved.KindName] = LaunchTimeMoved.Read,
            [ExtraKeyholder.KindName] = ExtraKeyholder.Read,
            [MissingPiecesDelivered.KindName] = MissingPiecesDelivered.Read,
            [MissingPiecesSettled.KindName] = MissingPiecesSettled.Read,
        };

    /// <summary>
    /// Reads a change from the fields of an object. If the kind is unknown, that is the only fault: the other fields depend
    /// on the kind, so they are not checked.
    /// </summary>
    public static WeekChange Read(JsonFields at)
    {
        var kind = at.Choice("kind", [.. ByKind.Keys]);
        if (at.IsFaultFree("kind")) return ByKind[kind](at);
        at.IgnoreRest();
        return new LaunchTimeMoved(default);
    }
}
