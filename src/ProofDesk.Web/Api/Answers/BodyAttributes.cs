namespace ProofDesk.Web.Api.Answers;

/// <summary>Says to the document which JSON an action reads from its body by itself.</summary>
[AttributeUsage(AttributeTargets.Method)]
public class TakesJsonAttribute(Type type) : Attribute
{
    public Type Type { get; } = type;
}

[AttributeUsage(AttributeTargets.Method)]
public sealed class TakesJsonAttribute<T>() : TakesJsonAttribute(typeof(T));

/// <summary>Says that an action takes an order: as JSON, or as a form with the art beside it.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class TakesOrderAttribute() : TakesJsonAttribute(typeof(Orders.NewOrder));

/// <summary>Says that an action takes bytes of this type as its body.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class TakesBytesAttribute(string mediaType) : Attribute
{
    public string MediaType { get; } = mediaType;
}

/// <summary>Says that an action gives bytes of these types.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class GivesBytesAttribute(params string[] mediaTypes) : Attribute
{
    public IReadOnlyList<string> MediaTypes { get; } = mediaTypes;
}

/// <summary>Says that an action changes something only as it was seen: If-Match is needed.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class MatchAttribute : Attribute;
