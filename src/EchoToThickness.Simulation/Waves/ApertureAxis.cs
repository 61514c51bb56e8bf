namespace EchoToThickness.Simulation.Waves;

/// <summary>One side of the rectangular aperture: its width, and what its elements do to the wave that they send and receive.</summary>
/// <param name="WidthMetres">Width of the side.</param>
/// <param name="Gains">Shape [element]: amplitude of each; empty: one undivided element.</param>
/// <param name="DelaysSeconds">Shape [element]: delay of each, for sending and again for receiving.</param>
internal sealed record ApertureAxis(double WidthMetres, double[] Gains, double[] DelaysSeconds)
{
    private const int MostSegments = 192;
    private const double FinestTurn = 0.35;

    /// <summary>A side without elements.</summary>
    /// <param name="widthMetres">Width.</param>
    public static ApertureAxis Undivided(double widthMetres) => new(widthMetres, [], []);

    /// <summary>Mean gain: what of a plane wave is sent, and again received.</summary>
    public double MeanGain => Gains.Length == 0 ? 1 : Gains.Average();

    /// <summary>Whether all elements do the same.</summary>
    public bool IsUniform =>
        Gains.Length == 0 || (Gains.All(g => g == Gains[0]) && DelaysSeconds.All(d => d == DelaysSeconds[0]));

    /// <summary>Cuts the side into equal segments over which gain and delay are taken as constant.</summary>
    /// <param name="delayPerMetre">Delay that grows along the side (tilt), seconds a metre.</param>
    /// <param name="delayPerSquareMetre">Delay that grows with the square of the distance from the centre (stand-off of a flat array).</param>
    /// <param name="highestHz">Highest frequency.</param>
    /// <returns>Gain and delay of each segment, from one end to the other.</returns>
    public (double Gain, double DelaySeconds)[] Segments(
        double delayPerMetre,
        double delayPerSquareMetre,
        double highestHz
    )
    {
        int elements = IsUniform ? 1 : Gains.Length;
        double steepest = Math.Abs(delayPerMetre) + Math.Abs(delayPerSquareMetre) * WidthMetres;
        double turns = 2 * Math.PI * highestHz * steepest * WidthMetres / elements;
        int each = Math.Clamp((int)Math.Ceiling(turns / FinestTurn), 1, Math.Max(1, MostSegments / elements));
        var segments = new (double, double)[elements * each];
        for (int i = 0; i < segments.Length; i++)
        {
            double y = ((i + 0.5) / segments.Length - 0.5) * WidthMetres;
            double gain = Gains.Length == 0 ? 1 : Gains[i / each];
            double delay = DelaysSeconds.Length == 0 ? 0 : DelaysSeconds[i / each];
            segments[i] = (gain, delay + delayPerMetre * y + delayPerSquareMetre * y * y);
        }
        return segments;
    }
}
