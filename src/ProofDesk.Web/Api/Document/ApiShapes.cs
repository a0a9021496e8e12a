using Microsoft.AspNetCore.Mvc.ApiExplorer;
using Microsoft.AspNetCore.Mvc.ModelBinding;
using ProofDesk.Web.Api.Answers;

namespace ProofDesk.Web.Api.Document;

/// <summary>Tells the document what actions read and answer by themselves: bodies that are not bound, and problems.</summary>
internal sealed class ApiShapes(IModelMetadataProvider metadata) : IApiDescriptionProvider
{
    /// <summary>What every action may answer besides what it names.</summary>
    private static readonly int[] Always = [401, 404, 422, 429, 503];

    // After the framework has described the actions.
    public int Order => int.MaxValue;

    public void OnProvidersExecuting(ApiDescriptionProviderContext context) { }

    public void OnProvidersExecuted(ApiDescriptionProviderContext context)
    {
        foreach (var action in context.Results.Where(IsOurs))
        {
            var said = action.ActionDescriptor.EndpointMetadata;
            if (said.OfType<TakesJsonAttribute>().FirstOrDefault() is { } body)
            {
                action.ParameterDescriptions.Add(
                    new ApiParameterDescription
                    {
                        Name = "body",
                        Source = BindingSource.Body,
                        Type = body.Type,
                        ModelMetadata = metadata.GetMetadataForType(body.Type),
                        IsRequired = true,
                    }
                );
                action.SupportedRequestFormats.Add(new ApiRequestFormat { MediaType = "application/json" });
            }
            foreach (var status in Further(said).Where(s => action.SupportedResponseTypes.All(r => r.StatusCode != s)))
                action.SupportedResponseTypes.Add(
                    new ApiResponseType
                    {
                        StatusCode = status,
                        Type = typeof(ApiProblem),
                        ModelMetadata = metadata.GetMetadataForType(typeof(ApiProblem)),
                        ApiResponseFormats = [new ApiResponseFormat { MediaType = ApiProblem.MediaType }],
                    }
                );
        }
    }

    private static List<int> Further(IList<object> said)
    {
        List<int> all = [.. Always];
        if (said.OfType<MatchAttribute>().Any())
            all.AddRange([412, 428]);
        if (said.OfType<OnceAttribute>().Any())
            all.Add(409);
        if (said.OfType<TakesJsonAttribute>().Any() || said.OfType<TakesBytesAttribute>().Any())
            all.AddRange([413, 415]);
        return all;
    }

    private static bool IsOurs(ApiDescription action) =>
        action.RelativePath?.StartsWith("api/", StringComparison.Ordinal) == true;
}
