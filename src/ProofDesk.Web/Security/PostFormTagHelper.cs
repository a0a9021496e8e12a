using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Mvc.Rendering;
using Microsoft.AspNetCore.Mvc.ViewFeatures;
using Microsoft.AspNetCore.Razor.TagHelpers;

namespace ProofDesk.Web.Security;

/// <summary>Puts the antiforgery field into every form that posts; the framework's own helper skips forms with a plain address.</summary>
[HtmlTargetElement("form", Attributes = "[method=post]")]
public sealed class PostFormTagHelper(IAntiforgery antiforgery) : TagHelper
{
    [ViewContext]
    [HtmlAttributeNotBound]
    public ViewContext ViewContext { get; set; } = null!;

    public override void Process(TagHelperContext context, TagHelperOutput output)
    {
        var tokens = antiforgery.GetAndStoreTokens(ViewContext.HttpContext);
        var field = new TagBuilder("input") { TagRenderMode = TagRenderMode.SelfClosing };
        field.MergeAttribute("type", "hidden");
        field.MergeAttribute("name", tokens.FormFieldName);
        field.MergeAttribute("value", tokens.RequestToken);
        output.PostContent.AppendHtml(field);
    }
}
