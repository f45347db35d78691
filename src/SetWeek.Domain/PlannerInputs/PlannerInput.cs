using System.Security.Cryptography;
using System.Text;
using NodaTime;
using NodaTime.Text;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.PlannerInputs;

/// <summary>What the planner is asked: the week and, once a plan is published, that plan and what has happened since.</summary>
public sealed record PlannerInput(Week Week, Replan? Replan)
{
    /// <summary>
    /// Of all that the answer depends on, the time apart: time passes without overtaking anything, and what it makes
    /// impossible the check finds.
    /// </summary>
    public string Hash()
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(WeekFile.Write(Week));
        if (Replan is { } replan)
        {
            hash.AppendData(PlanFile.Write(replan.Published));
            foreach (var progress in replan.Progress) hash.AppendData(Encoding.UTF8.GetBytes(Line(progress)));
        }
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    private static string Line(ProgressReport so) => FormattableString.Invariant(
        $"\n{so.Task}|{so.Stint}|{so.Night}|{so.CleanDown}|{so.State}|")
        + FormattableString.Invariant($"{At(so.From)}|{At(so.To)}|{so.RemainingMinutes}|{At(so.Until)}");

    private static string At(OffsetDateTime? time) => time is { } at ? OffsetDateTimePattern.Rfc3339.Format(at) : "";
}
