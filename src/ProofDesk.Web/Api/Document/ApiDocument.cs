using System.Text.Json.Nodes;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using ProofDesk.Web.Api.Answers;
using ProofDesk.Web.Api.Orders;

namespace ProofDesk.Web.Api.Document;

/// <summary>The document of the API: made from the actions and types themselves, with what they cannot say added here.</summary>
internal static class ApiDocument
{
    public const string Name = "v1";
    private const string KeyScheme = "key";
    private const string Json = "application/json";

    private static readonly (string Name, string Says)[] Tags =
    [
        ("Orders", "What is to be printed on what, and the proofs of it."),
        (
            "Versions",
            "Proofs of an order: how far they are, what they show, what a run costs, and the films of approved ones."
        ),
        ("Sending", "Links mailed to clients. Answers are the clients' own: no key can give one in their name."),
        ("Records", "What was decided, and packets that prove it offline."),
        ("Means", "What the shop prints with and on."),
    ];

    public static void Add(IServiceCollection services) =>
        services.AddOpenApi(
            Name,
            o =>
            {
                o.OpenApiVersion = OpenApiSpecVersion.OpenApi3_1;
                o.ShouldInclude = action => action.RelativePath?.StartsWith("api/v1", StringComparison.Ordinal) == true;
                o.AddDocumentTransformer((document, _, _) => Done(() => Describe(document)));
                o.AddOperationTransformer((operation, context, _) => Done(() => Describe(operation, context)));
                o.AddSchemaTransformer((schema, context, _) => Done(() => Describe(schema, context)));
            }
        );

    private static void Describe(OpenApiDocument document)
    {
        document.Info = new OpenApiInfo
        {
            Title = "ProofDesk",
            Version = "1",
            Description =
                "Orders, proofs, sending and records of one shop, for its own programs. Send a key of the shop with each request; what it may do is its scope. "
                + "Answers carry an ETag. What makes something takes an Idempotency-Key, what changes something an If-Match. "
                + "Mistakes come all at once as RFC 9457 problems, in the same words as in the desk. "
                + "Nothing here answers for a client, and answers given elsewhere are written down in the desk only: whoever writes one down vouches for it in person.",
        };
        document.Servers = [new OpenApiServer { Url = "/" }];
        document.Tags = Tags.Select(tag => new OpenApiTag { Name = tag.Name, Description = tag.Says }).ToHashSet();
        document.Components ??= new OpenApiComponents();
        document.Components.SecuritySchemes ??= new Dictionary<string, IOpenApiSecurityScheme>();
        document.Components.SecuritySchemes[KeyScheme] = new OpenApiSecurityScheme
        {
            Type = SecuritySchemeType.Http,
            Scheme = "bearer",
            BearerFormat = "secret-token (RFC 8959)",
            Description =
                "A key made on the desk's page Keys: Authorization: Bearer secret-token:... Cookies are not looked at.",
        };
        document.Security =
        [
            new OpenApiSecurityRequirement { [new OpenApiSecuritySchemeReference(KeyScheme, document)] = [] },
        ];
    }

    private static void Describe(OpenApiOperation operation, OpenApiOperationTransformerContext context)
    {
        var action = context.Description.ActionDescriptor;
        var said = action.EndpointMetadata;
        operation.OperationId =
            action.RouteValues["controller"]!.Replace("Api", "", StringComparison.Ordinal)
            + action.RouteValues["action"];
        operation.Parameters ??= [];
        if (said.OfType<OnceAttribute>().Any())
            operation.Parameters.Add(
                Header(
                    OnceAttribute.Header,
                    false,
                    "Names the request, at most 200 characters, a random UUID for example. Sent again under the same name within a week, it gets the first answer again and nothing is made twice."
                )
            );
        if (said.OfType<MatchAttribute>().Any())
            operation.Parameters.Add(Header("If-Match", true, "The ETag of the answer in which the thing was seen."));
        foreach (var bytes in said.OfType<TakesBytesAttribute>())
            operation.RequestBody = new OpenApiRequestBody
            {
                Required = true,
                Content = new Dictionary<string, OpenApiMediaType> { [bytes.MediaType] = new() },
            };
        if (said.OfType<TakesOrderAttribute>().Any() && operation.RequestBody is OpenApiRequestBody order)
            AddForm(order);
        Answers(operation, said);
    }

    private static void Answers(OpenApiOperation operation, IList<object> said)
    {
        operation.Responses ??= [];
        var gives = said.OfType<GivesBytesAttribute>().FirstOrDefault();
        if (gives is not null)
            operation.Responses["200"] = new OpenApiResponse
            {
                Description = "The bytes.",
                Content = gives.MediaTypes.ToDictionary(type => type, _ => new OpenApiMediaType()),
            };
        foreach (var (status, answer) in operation.Responses)
        {
            if (answer is not OpenApiResponse response || !int.TryParse(status, out var number))
                continue;
            if (number >= 400)
            {
                response.Description = ApiProblem.Kinds.First(kind => kind.Status == number).Title + ".";
                continue;
            }
            if (response.Content?.ContainsKey(Json) != true || gives is not null)
                continue;
            response.Description = number == 201 ? "Made." : "As it is now.";
            response.Headers ??= new Dictionary<string, IOpenApiHeader>();
            response.Headers["ETag"] = HeaderOf("Names this state of it.");
            if (number == 201)
                response.Headers["Location"] = HeaderOf("Where it is.");
        }
    }

    /// <summary>The order as one part and the art as another.</summary>
    private static void AddForm(OpenApiRequestBody body)
    {
        if (body.Content is null || !body.Content.TryGetValue(Json, out var json) || json.Schema is not { } schema)
            return;
        body.Content["multipart/form-data"] = new OpenApiMediaType
        {
            Schema = new OpenApiSchema
            {
                Type = JsonSchemaType.Object,
                Properties = new Dictionary<string, IOpenApiSchema>
                {
                    [Bodies.OrderPart] = schema,
                    [Bodies.ArtPart] = new OpenApiSchema
                    {
                        Type = JsonSchemaType.String,
                        Description = "The file: PNG, JPEG, TIFF, WebP, SVG, PDF or a ZIP of layers.",
                    },
                },
                Required = new HashSet<string> { Bodies.OrderPart },
            },
            Encoding = new Dictionary<string, OpenApiEncoding>
            {
                [Bodies.OrderPart] = new() { ContentType = Json },
                [Bodies.ArtPart] = new() { ContentType = "application/octet-stream" },
            },
        };
    }

    private static void Describe(OpenApiSchema schema, OpenApiSchemaTransformerContext context)
    {
        var member = context.JsonPropertyInfo?.AttributeProvider;
        if (member?.GetCustomAttributes(typeof(ExampleAttribute), false) is [ExampleAttribute example, ..])
            schema.Examples = [JsonNode.Parse(example.Json)!];
    }

    private static OpenApiParameter Header(string name, bool required, string says) =>
        new()
        {
            Name = name,
            In = ParameterLocation.Header,
            Required = required,
            Description = says,
            Schema = new OpenApiSchema { Type = JsonSchemaType.String },
        };

    private static OpenApiHeader HeaderOf(string says) =>
        new()
        {
            Description = says,
            Schema = new OpenApiSchema { Type = JsonSchemaType.String },
        };

    private static Task Done(Action describe)
    {
        describe();
        return Task.CompletedTask;
    }
}
