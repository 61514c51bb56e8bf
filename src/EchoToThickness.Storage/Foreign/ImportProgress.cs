namespace EchoToThickness.Storage.Foreign;

/// <summary>How far an import is.</summary>
/// <param name="ScansDone">Scan positions written, over all lines.</param>
/// <param name="ScansTotal">Scan positions in all.</param>
public readonly record struct ImportProgress(long ScansDone, long ScansTotal);
