using Microsoft.AspNetCore.Mvc.ApplicationModels;
using Microsoft.AspNetCore.Mvc.Razor;

namespace ProofDesk.Web.Layout;

/// <summary>
/// Views live in the folder of their feature: a controller in ProofDesk.Web.Orders finds Orders/NAME.cshtml, and
/// everyone finds Layout/NAME.cshtml.
/// </summary>
internal sealed class FeatureViews : IControllerModelConvention, IViewLocationExpander
{
    private const string Feature = "feature";

    public void Apply(ControllerModel controller) =>
        controller.Properties[Feature] = controller.ControllerType.Namespace!.Split('.')[^1];

    public void PopulateValues(ViewLocationExpanderContext context) =>
        context.Values[Feature] = context.ActionContext.ActionDescriptor.Properties.TryGetValue(Feature, out var folder)
            ? (string)folder!
            : "";

    public IEnumerable<string> ExpandViewLocations(
        ViewLocationExpanderContext context,
        IEnumerable<string> viewLocations
    ) => [$"/{context.Values[Feature]}/{{0}}.cshtml", "/Layout/{0}.cshtml"];
}
