using EchoToThickness.Studies.Resampling;

namespace EchoToThickness.Studies.Compare;

/// <summary>Stated against observed chance of a wrong echo, for the measured cells of one method whose stated chance lies in a range.</summary>
/// <param name="Source">Name of the source.</param>
/// <param name="Method">Name of the method.</param>
/// <param name="Lowest">Smallest stated probability among the cells.</param>
/// <param name="Highest">Largest.</param>
/// <param name="Cells">Measured cells.</param>
/// <param name="Wrong">Grossly wrong ones.</param>
/// <param name="Stated">Mean stated probability.</param>
/// <param name="Observed">Part that is wrong, with its exact binomial interval (cells taken as independent).</param>
public sealed record ReliabilityRow(
    string Source,
    string Method,
    double Lowest,
    double Highest,
    long Cells,
    long Wrong,
    double Stated,
    FigureValue Observed
)
{
    /// <summary>Observed over stated: 1 where the statement is right.</summary>
    public double Ratio => Observed.Value / Stated;
}
