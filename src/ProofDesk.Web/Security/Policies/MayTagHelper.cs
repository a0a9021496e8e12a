using Microsoft.AspNetCore.Razor.TagHelpers;

namespace ProofDesk.Web.Security.Policies;

/// <summary>Leaves an element out for who lacks the right: may="Send". The action itself is closed by its policy.</summary>
[HtmlTargetElement("*", Attributes = "may")]
public sealed class MayTagHelper(PersonAtDesk person) : TagHelper
{
    [HtmlAttributeName("may")]
    public Right May { get; set; }

    // Last, so that nothing another helper puts into the element is left behind.
    public override int Order => int.MaxValue;

    public override void Process(TagHelperContext context, TagHelperOutput output)
    {
        if (!person.May(May))
            output.SuppressOutput();
    }
}
