namespace SetWeek.Service.Http.Requests;

/// <summary>
/// Names the type whose form a member has in JSON, where the member holds JSON that is already written. The API description reads
/// it.
/// </summary>
[AttributeUsage(AttributeTargets.Property)]
public sealed class SentAsAttribute(Type type) : Attribute
{
    public Type Type => type;
}
