namespace ProofDesk.Web.Api;

/// <summary>How a field may look, as JSON; it goes into the document.</summary>
[AttributeUsage(AttributeTargets.Property)]
public sealed class ExampleAttribute(string json) : Attribute
{
    public string Json { get; } = json;
}
