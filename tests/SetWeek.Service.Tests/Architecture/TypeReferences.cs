using Mono.Cecil;
using Mono.Cecil.Cil;

namespace SetWeek.Service.Tests.Architecture;

/// <summary>The references between the types of an assembly, read from the compiled code.</summary>
internal static class TypeReferences
{
    /// <summary>
    /// Pairs of top-level types. Signatures, base types, attributes, fields and method bodies count. Nested types, lambdas and
    /// async state machines count as their outermost type. Constants are copied by the compiler, so references to them are not
    /// found.
    /// </summary>
    public static IEnumerable<(TypeDefinition From, TypeDefinition To)> Of(ModuleDefinition module)
    {
        foreach (var type in module.GetTypes())
        {
            var from = Outermost(type);
            foreach (var to in ReferredTypes(type).SelectMany(Parts).Select(part => Resolve(module, part))
                .OfType<TypeDefinition>()
                .Select(Outermost).Where(to => to != from && !IsGenerated(to)).Distinct())
                if (!IsGenerated(from)) yield return (from, to);
        }
    }

    public static bool IsGenerated(TypeDefinition type) => type.Name.StartsWith('<') || type.Namespace.Length == 0
        || type.CustomAttributes.Any(attribute =>
            attribute.AttributeType.Name is "CompilerGeneratedAttribute" or "EmbeddedAttribute" or "GeneratedCodeAttribute");

    private static IEnumerable<TypeReference?> ReferredTypes(TypeDefinition type)
    {
        yield return type.BaseType;
        foreach (var reference in type.Interfaces) yield return reference.InterfaceType;
        foreach (var reference in Constraints(type)) yield return reference;
        foreach (var reference in Attributes(type)) yield return reference;
        foreach (var field in type.Fields)
            foreach (var reference in Attributes(field).Prepend(field.FieldType)) yield return reference;
        foreach (var property in type.Properties)
            foreach (var reference in Attributes(property).Prepend(property.PropertyType)) yield return reference;
        foreach (var reference in type.Methods.SelectMany(ReferredTypes)) yield return reference;
    }

    private static IEnumerable<TypeReference?> ReferredTypes(MethodDefinition method)
    {
        yield return method.ReturnType;
        foreach (var parameter in method.Parameters)
            foreach (var reference in Attributes(parameter).Prepend(parameter.ParameterType)) yield return reference;
        foreach (var reference in Constraints(method)) yield return reference;
        foreach (var reference in Attributes(method)) yield return reference;
        if (!method.HasBody) yield break;
        foreach (var variable in method.Body.Variables) yield return variable.VariableType;
        foreach (var handler in method.Body.ExceptionHandlers) yield return handler.CatchType;
        foreach (var reference in method.Body.Instructions.SelectMany(ReferredTypes)) yield return reference;
    }

    private static IEnumerable<TypeReference?> ReferredTypes(Instruction instruction)
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

    private static IEnumerable<TypeReference?> Constraints(IGenericParameterProvider provider) =>
        provider.GenericParameters.SelectMany(parameter => parameter.Constraints).Select(constraint => constraint.ConstraintType);

    private static IEnumerable<TypeReference?> Attributes(ICustomAttributeProvider provider) =>
        provider.CustomAttributes.SelectMany(attribute => attribute.ConstructorArguments
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
