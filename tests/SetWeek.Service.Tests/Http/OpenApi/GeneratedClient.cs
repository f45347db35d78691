using System.Runtime.Loader;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Newtonsoft.Json;
using NSwag.CodeGeneration.CSharp;

namespace SetWeek.Service.Tests.Http.OpenApi;

/// <summary>
/// A client of the API that NSwag generates from the description, compiled in memory. It knows the service by the description
/// alone, so that whatever it cannot send or read is an error of the description.
/// </summary>
internal sealed class GeneratedClient(Type type, HttpClient http)
{
    private readonly object client = Activator.CreateInstance(type, http)!;

    /// <summary>Generates and compiles the client. It takes some seconds.</summary>
    public static async Task<Type> Generate(string description)
    {
        var settings = new CSharpClientGeneratorSettings
        {
            ClassName = "SetWeekClient", UseBaseUrl = false, WrapResponses = true,
            // Otherwise an optional number that is not set would be sent as 0.
            CSharpGeneratorSettings =
            {
                Namespace = "Generated", GenerateNullableReferenceTypes = true, GenerateOptionalPropertiesAsNullable = true,
            },
        };
        var code = new CSharpClientGenerator(await NSwag.OpenApiDocument.FromJsonAsync(description), settings).GenerateFile();
        var references = ((string)AppContext.GetData("TRUSTED_PLATFORM_ASSEMBLIES")!).Split(':')
            .Select(file => MetadataReference.CreateFromFile(file));
        var compilation = CSharpCompilation.Create("SetWeek.GeneratedClient", [CSharpSyntaxTree.ParseText(code)], references,
            new CSharpCompilationOptions(
                OutputKind.DynamicallyLinkedLibrary, nullableContextOptions: NullableContextOptions.Enable));
        using var assembly = new MemoryStream();
        var errors = compilation.Emit(assembly).Diagnostics.Where(found => found.Severity == DiagnosticSeverity.Error);
        Assert.Empty(errors.Select(error => error.ToString()));
        assembly.Position = 0;
        return AssemblyLoadContext.Default.LoadFromStream(assembly).GetType("Generated.SetWeekClient", throwOnError: true)!;
    }

    /// <summary>
    /// Calls an operation. The generated method reads the answer as the type that the description promises, and throws if it does
    /// not fit.
    /// </summary>
    /// <param name="given">Values of parameters by name. "body" is JSON, which is read as the generated type of the body.</param>
    public async Task<Answer> Call(string operation, params (string Name, object? Value)[] given)
    {
        var name = $"{char.ToUpperInvariant(operation[0])}{operation[1..]}Async";
        var method = type.GetMethods().Single(candidate => candidate.Name == name
            && candidate.GetParameters().LastOrDefault()?.ParameterType != typeof(CancellationToken));
        var arguments = method.GetParameters().Select(parameter =>
        {
            var value = given.FirstOrDefault(one => one.Name == parameter.Name).Value;
            return parameter.Name == "body" && value is string json
                ? JsonConvert.DeserializeObject(json, parameter.ParameterType, new JsonSerializerSettings
                {
                    MissingMemberHandling = MissingMemberHandling.Error,
                })
                : value;
        }).ToArray();
        try
        {
            var task = (Task)method.Invoke(client, arguments)!;
            await task;
            object response = ((dynamic)task).Result;
            return new Answer(((dynamic)response).StatusCode, ((dynamic)response).Headers,
                response.GetType().GetProperty("Result")?.GetValue(response));
        }
        catch (Exception refused) when (refused.GetType().GetProperty("StatusCode") is not null)
        {
            dynamic exception = refused;
            // An answer that the client cannot read has no typed result.
            Assert.True(refused.GetType().IsGenericType, $"{operation}: {refused.Message} {refused.InnerException?.Message}");
            return new Answer(exception.StatusCode, exception.Headers, exception.Result);
        }
    }

    /// <param name="Result">The generated type of the answer; for a refusal, that of the problem.</param>
    public sealed record Answer(
        int Status, IReadOnlyDictionary<string, IEnumerable<string>> Headers, object? Result)
    {
        public string? Header(string name) =>
            Headers.FirstOrDefault(header => header.Key.Equals(name, StringComparison.OrdinalIgnoreCase)).Value?.FirstOrDefault();
    }
}
