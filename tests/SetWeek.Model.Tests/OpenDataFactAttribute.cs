namespace SetWeek.Model.Tests;

/// <summary>A test that reads a published data set. It is skipped where the data set is absent.</summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class OpenDataFactAttribute : FactAttribute
{
    public OpenDataFactAttribute(string name) => Skip = OpenData.SkipReason(name);
}
