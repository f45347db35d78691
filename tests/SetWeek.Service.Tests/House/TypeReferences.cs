using Mono.Cecil;
using Mono.Cecil.Cil;

namespace SetWeek.Service.Tests.House;

/// <summary>Which types of an assembly refer to which others of it, read from the compiled code.</summary>
internal static class TypeReferences
{
    /// <summary>
    /// Pairs of top-level types: signatures, bases, attributes, fields and method bodies count. A nested type, a lambda and an
    /// async state machine count as the type that they stand in. Constants that the compiler copies leave no trace.
    /// </summary>
    public static IEnumerable<(TypeDefinition From, TypeDefinition To)> Of(ModuleDefinition module)
    {
        foreach (var type in module.GetTypes())
        {
            var from = Outermost(type);
            foreach (var to in Named(type).SelectMany(Parts).Select(part => Resolve(module, part)).OfType<TypeDefinition>()
                .Select(Outermost).Where(to => to != from && !IsGenerated(to)).Distinct())
                if (!IsGenerated(from)) yield return (from, to);
        }
    }

    public static bool IsGenerated(TypeDefinition type) => type.Name.StartsWith('<') || type.Namespace.Length == 0
        || type.CustomAttributes.Any(attribute =>
            attribute.AttributeType.Name is "CompilerGeneratedAttribute" or "EmbeddedAttribute" or "GeneratedCodeAttribute");

    private static IEnumerable<TypeReference?> Named(TypeDefinition type)
    {
        yield return type.BaseType;
        foreach (var one in type.Interfaces) yield return one.InterfaceType;
        foreach (var one in Constraints(type)) yield return one;
        foreach (var one in Attributes(type)) yield return one;
        foreach (var field in type.Fields)
            foreach (var one in Attributes(field).Prepend(field.FieldType)) yield return one;
        foreach (var property in type.Properties)
            foreach (var one in Attributes(property).Prepend(property.PropertyType)) yield return one;
        foreach (var one in type.Methods.SelectMany(Named)) yield return one;
    }

    private static IEnumerable<TypeReference?> Named(MethodDefinition method)
    {
        yield return method.ReturnType;
        foreach (var parameter in method.Parameters)
            foreach (var one in Attributes(parameter).Prepend(parameter.ParameterType)) yield return one;
        foreach (var one in Constraints(method)) yield return one;
        foreach (var one in Attributes(method)) yield return one;
        if (!method.HasBody) yield break;
        foreach (var variable in method.Body.Variables) yield return variable.VariableType;
        foreach (var handler in method.Body.ExceptionHandlers) yield return handler.CatchType;
        foreach (var one in method.Body.Instructions.SelectMany(Named)) yield return one;
    }

    private static IEnumerable<TypeReference?> Named(Instruction instruction)
    {
        switch (instruction.Operand)
        {
            case TypeReference type: yield return type; break;
            case FieldReference field: yield return field.DeclaringType; yield return field.FieldType; break;
            case MethodReference method:
                yield return method.DeclaringType;
                yield return method.ReturnType;
                foreach (var parameter in method.Parameters) yield return parameter.ParameterType;
                if (method is GenericInstanceMethod generic)
                    foreach (var argument in generic.GenericArguments) yield return argument;
                break;
        }
    }

    private static IEnumerable<TypeReference?> Constraints(IGenericParameterProvider of) =>
        of.GenericParameters.SelectMany(parameter => parameter.Constraints).Select(constraint => constraint.ConstraintType);

    private static IEnumerable<TypeReference?> Attributes(ICustomAttributeProvider of) =>
        of.CustomAttributes.SelectMany(attribute => attribute.ConstructorArguments
            .Select(argument => argument.Value as TypeReference).Prepend(attribute.AttributeType));

    /// <summary>The type without arrays and pointers, and each of its type arguments.</summary>
    private static IEnumerable<TypeReference> Parts(TypeReference? type) => type switch
    {
        null or GenericParameter => [],
        GenericInstanceType generic => [generic.ElementType, .. generic.GenericArguments.SelectMany(Parts)],
        IModifierType modified => [.. Parts(modified.ElementType), .. Parts(modified.ModifierType)],
        TypeSpecification other => Parts(other.ElementType),
        _ => [type],
    };

    private static TypeDefinition? Resolve(ModuleDefinition module, TypeReference type) =>
        type as TypeDefinition ?? (type.Scope == module ? module.GetType(type.FullName) : null);

    private static TypeDefinition Outermost(TypeDefinition type) =>
        type.DeclaringType is { } outer ? Outermost(outer) : type;
}
