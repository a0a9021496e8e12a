using System.Reflection;
using Xunit.Sdk;

namespace ProofDesk.Adapters.Tests.Database;

public enum Engine
{
    Sqlite,
    Postgres,
}

/// <summary>The test runs once on each database the product promises.</summary>
internal sealed class OnBothEnginesAttribute : DataAttribute
{
    public override IEnumerable<object[]> GetData(MethodInfo testMethod) =>
        [
            [Engine.Sqlite],
            [Engine.Postgres],
        ];
}
