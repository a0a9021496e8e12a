using System.Text.Json;
using System.Text.Json.Serialization;

namespace ProofDesk.Web.Api.Answers;

/// <summary>One way of writing JSON: by it answers are written, bodies read and the document's schemas made.</summary>
internal static class ApiJson
{
    public static JsonSerializerOptions Options { get; } = Set(new JsonSerializerOptions(JsonSerializerDefaults.Web));

    public static JsonSerializerOptions Set(JsonSerializerOptions options)
    {
        options.NumberHandling = JsonNumberHandling.Strict;
        options.UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow;
        options.Converters.Add(new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false));
        return options;
    }
}
