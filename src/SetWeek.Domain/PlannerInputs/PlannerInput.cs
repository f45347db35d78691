using System.Security.Cryptography;
using System.Text;
using NodaTime;
using NodaTime.Text;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.PlannerInputs;

/// <summary>The input of the planner: the week and, for a re-plan, the published plan and the reported work.</summary>
public sealed record PlannerInput(Week Week, Replan? Replan)
{
    /// <summary>
    /// The SHA-256 hash of the input without the current time, in hexadecimal. Passing time alone does not make a plan obsolete;
    /// the check before publishing finds work that has become impossible.
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

    private static string Line(ProgressReport progress) => FormattableString.Invariant(
        $"\n{progress.Task}|{progress.Stint}|{progress.Night}|{progress.CleanDown}|{progress.State}|")
        + FormattableString.Invariant(
            $"{Text(progress.From)}|{Text(progress.To)}|{progress.RemainingMinutes}|{Text(progress.Until)}");

    private static string Text(OffsetDateTime? time) => time is { } known ? OffsetDateTimePattern.Rfc3339.Format(known) : "";
}
