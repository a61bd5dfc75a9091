using Drainboard.Web.Tests;
using Xunit.Sdk;
using Xunit.v3;

[assembly: TestMethodOrderer(typeof(ByName))]
[assembly: TestCaseOrderer(typeof(ByName))]

namespace Drainboard.Web.Tests;

/// <summary>The same order everywhere. The runner's own goes by a hash of the folder, and tests of one class share a running program: what failed in one folder could not be seen in another.</summary>
public sealed class ByName : ITestMethodOrderer, ITestCaseOrderer
{
    public IReadOnlyCollection<TTestMethod?> OrderTestMethods<TTestMethod>(IReadOnlyCollection<TTestMethod?> testMethods)
        where TTestMethod : notnull, ITestMethod => [.. testMethods.OrderBy(method => method?.MethodName, StringComparer.Ordinal)];

    public IReadOnlyCollection<TTestCase> OrderTestCases<TTestCase>(IReadOnlyCollection<TTestCase> testCases)
        where TTestCase : notnull, ITestCase => [.. testCases.OrderBy(test => test.TestCaseDisplayName, StringComparer.Ordinal)];
}
