namespace SetWeek.Service.Feed;

/// <summary>
/// The JSON form of an event of the feed (CloudEvents 1.0, section 3.2 of its JSON format). The CloudEvents formatter writes it;
/// the API description reads this type.
/// </summary>
/// <param name="Specversion">1.0.</param>
/// <param name="Subject">The direction, store or week, as in week/first-rain.harbour-street.</param>
/// <param name="Time">When it happened.</param>
/// <param name="Data">What happened; its members depend on the type.</param>
/// <param name="Partitionkey">The same as the subject; within it the events come in order.</param>
/// <param name="Sequence">The event's number within its subject, as text of ten digits.</param>
/// <param name="Recordedtime">When the service recorded it.</param>
/// <param name="Timezone">In events of a week: the IANA time zone of the store, in which local times such as eta are.</param>
public sealed record FeedEvent(string Specversion, string Id, string Source, string Type, string Subject, DateTimeOffset Time,
    string Datacontenttype, object Data, string Partitionkey, string Sequence, DateTimeOffset Recordedtime, string? Timezone);
