using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Weeks;

/// <summary>A pin as in a week file, with the id by which it is taken away.</summary>
public sealed record PinView(
    string Id, string? Task, int? Stint, string? Night, LocalDateTime? From, IReadOnlyList<string>? People, string? Person,
    bool? Off, LocalDateTime? To)
{
    public static PinView Of(WeekPin pin) => pin.Pin switch
    {
        StintPin stint => new(pin.Id, stint.Task, stint.Stint, stint.Night, stint.From,
            stint.People.Count == 0 ? null : stint.People, null, null, null),
        ShiftPin shift => new(pin.Id, null, null, shift.Night, shift.From, null, shift.Person, shift.Off ? true : null, shift.To),
        _ => throw new ArgumentException($"A {pin.Pin.GetType().Name} has no view; add its case.", nameof(pin)),
    };
}
