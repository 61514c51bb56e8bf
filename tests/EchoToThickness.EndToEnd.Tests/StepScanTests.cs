using Xunit;

namespace EchoToThickness.EndToEnd.Tests;

/// <summary>Classes that share one scan, made once.</summary>
[CollectionDefinition(nameof(StepScanTests))]
public sealed class StepScanTests : ICollectionFixture<StepScan>;
