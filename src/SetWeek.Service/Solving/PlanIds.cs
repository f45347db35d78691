using System.Globalization;
using NodaTime;

namespace SetWeek.Service.Solving;

/// <summary>
/// The source of the ids of plans. An id is 32 hexadecimal digits: 48 bits of Unix time in milliseconds, then 80 random bits.
/// Ordinal order is therefore order of creation, to the millisecond.
/// </summary>
/// <param name="randomBytes">Returns as many random bytes as asked for.</param>
public sealed class PlanIds(Func<int, byte[]> randomBytes)
{
    public string Next(Instant now) =>
        now.ToUnixTimeMilliseconds().ToString("x12", CultureInfo.InvariantCulture) + Convert.ToHexStringLower(randomBytes(10));
}
