namespace SetWeek.Model.Tests;

/// <inheritdoc cref="OpenDataFactAttribute" />
[AttributeUsage(AttributeTargets.Method)]
internal sealed class OpenDataTheoryAttribute : TheoryAttribute
{
    public OpenDataTheoryAttribute(string name) => Skip = OpenData.SkipReason(name);
}
