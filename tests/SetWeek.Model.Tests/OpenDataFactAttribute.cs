namespace SetWeek.Model.Tests;

/// <summary>A test that reads open data: reported as skipped, by name, where the data is not there.</summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class OpenDataFactAttribute : FactAttribute
{
    public OpenDataFactAttribute(string name) => Skip = OpenData.Missing(name);
}
