using System.Security.Cryptography;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.PlannerInputs;

/// <summary>The input of the planner: the week and, for a re-plan, the published plan and the reported work.</summary>
public sealed record PlannerInput(Week Week, Replan? Replan)
{
    /// <summary>
    /// The SHA-256 hash of the week and of the published plan, in hexadecimal. Passing time and reported work alone do not make a
    /// plan obsolete; the check before publishing finds what has become impossible.
    /// </summary>
    public string Hash()
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(WeekFile.Write(Week));
        if (Replan is { } replan) hash.AppendData(PlanFile.Write(replan.Published));
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }
}
