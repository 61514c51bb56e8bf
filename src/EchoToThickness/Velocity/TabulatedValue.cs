namespace EchoToThickness.Velocity;

/// <summary>A tabulated number with where it came from.</summary>
/// <param name="Value">The number, SI.</param>
/// <param name="RelativeTolerance">Half width within which the alloy, grade or handbook may differ; 0.01 = 1 %.</param>
/// <param name="Source">Handbook, paper or table.</param>
/// <param name="FromMemory">True when the number was written down from memory of the source and not seen in it.</param>
public sealed record TabulatedValue(double Value, double RelativeTolerance, string Source, bool FromMemory)
{
    /// <summary>Relative standard uncertainty of a uniform distribution of that half width (JCGM 100:2008, 4.3.7).</summary>
    public double RelativeUncertainty => RelativeTolerance / Math.Sqrt(3);
}
