namespace EchoToThickness.Statistics.Extremes;

/// <summary>How often the bound keeps its promise on fields simulated from the fitted variogram and the measured distribution.</summary>
/// <param name="Fields">Fields.</param>
/// <param name="Blocks">Blocks of each.</param>
/// <param name="FurtherBlocks">Blocks the bound is about; fewer than asked for where the fields cannot tell more.</param>
/// <param name="Nominal">Confidence claimed.</param>
/// <param name="Coverage">Confidence found.</param>
/// <param name="StandardError">Standard error of that figure.</param>
/// <param name="Method">Method tested, in words.</param>
public sealed record CoverageSelfTest(
    int Fields,
    int Blocks,
    double FurtherBlocks,
    double Nominal,
    double Coverage,
    double StandardError,
    string Method
);
