using System.Numerics;

namespace EchoToThickness.Simulation.Waves;

/// <summary>
/// The squared one-way field of one side on a row of points, all frequencies, tapered to nothing at the row's ends and padded with zeros to a
/// multiple of 16 points.
/// </summary>
internal sealed class FieldSamples
{
    private const double TaperShare = 0.15;

    /// <summary>Makes room.</summary>
    /// <param name="count">Points.</param>
    /// <param name="spacingMetres">Their distance.</param>
    /// <param name="frequencies">Frequencies.</param>
    /// <param name="stride">Frequencies of the grid from one of these to the next.</param>
    public FieldSamples(int count, double spacingMetres, int frequencies, int stride = 1)
    {
        (Count, SpacingMetres, Stride) = (count, spacingMetres, stride);
        Row = (count + FootprintKernel.Lanes - 1) / FootprintKernel.Lanes * FootprintKernel.Lanes;
        Real = new float[frequencies * Row];
        Imaginary = new float[frequencies * Row];
        SumReal = new double[frequencies];
        SumImaginary = new double[frequencies];
    }

    /// <summary>Points.</summary>
    public int Count { get; }

    /// <summary>Their distance, metres.</summary>
    public double SpacingMetres { get; }

    /// <summary>Frequencies of the grid from one of these to the next.</summary>
    public int Stride { get; }

    /// <summary>Floats from one frequency to the next.</summary>
    public int Row { get; }

    /// <summary>Shape [frequency, point].</summary>
    public float[] Real { get; }

    /// <summary>Shape [frequency, point].</summary>
    public float[] Imaginary { get; }

    /// <summary>Shape [frequency]: sum over the points.</summary>
    public double[] SumReal { get; }

    /// <summary>Shape [frequency]: sum over the points.</summary>
    public double[] SumImaginary { get; }

    /// <summary>A row that counts every point alike: across a strip, or in two dimensions.</summary>
    /// <param name="count">Points.</param>
    /// <param name="spacingMetres">Their distance.</param>
    /// <param name="frequencies">Frequencies.</param>
    public static FieldSamples Uniform(int count, double spacingMetres, int frequencies)
    {
        var samples = new FieldSamples(count, spacingMetres, frequencies);
        for (int m = 0; m < frequencies; m++)
            samples.Real.AsSpan(m * samples.Row, count).Fill(1);
        samples.Close();
        return samples;
    }

    /// <summary>Sets a value; the taper is applied here.</summary>
    /// <param name="frequency">Frequency.</param>
    /// <param name="point">Point.</param>
    /// <param name="value">Squared field.</param>
    public void Set(int frequency, int point, Complex value)
    {
        double fromEnd = (0.5 + Math.Min(point, Count - 1 - point)) / Count;
        double taper = fromEnd >= TaperShare ? 1 : 0.5 * (1 - Math.Cos(Math.PI * fromEnd / TaperShare));
        Real[frequency * Row + point] = (float)(value.Real * taper);
        Imaginary[frequency * Row + point] = (float)(value.Imaginary * taper);
    }

    /// <summary>Sums the values that were set.</summary>
    public void Close()
    {
        for (int m = 0; m < SumReal.Length; m++)
        {
            for (int i = 0; i < Count; i++)
            {
                SumReal[m] += Real[m * Row + i];
                SumImaginary[m] += Imaginary[m * Row + i];
            }
        }
    }
}
