using System.Numerics.Tensors;
using EchoToThickness.Simulation.Random;
using EchoToThickness.Simulation.Scenes;
using MathNet.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace EchoToThickness.Simulation.Fields;

/// <summary>
/// A Gaussian random field of mean 0 and variance 1 over a surface: made once by Fourier synthesis, read by cubic B-splines. Immutable and
/// thread-safe; the same seed gives the same field whatever the order of reading.
/// </summary>
/// <remarks>
/// z(s, w) = Σ A(k) (a cos(k·x) - b sin(k·x)) over the waves that fit the two periods, a and b independent normal deviates drawn by the
/// number of the wave, ΣA² = 1. Spectral densities with κ² = (k_s ℓ_s)² + (k_w ℓ_w)²: Gaussian correlation exp(-r²) has exp(-κ²/4),
/// exponential correlation exp(-r) has (1 + κ²)^(-3/2), the self-affine power law (1 + κ²)^(-1-H) (Shinozuka and Deodatis, Applied
/// Mechanics Reviews 49 (1996) 29; Abrahamsen, "A review of Gaussian random fields and correlation functions", 1997; Palasantzas, Physical
/// Review B 48 (1993) 14472). Waves shorter than the shortest wavelength are left out. The grid has at least four nodes to the shortest
/// wavelength, and its spline coefficients are divided by the spline's own response (2 + cos)/3 a axis (Unser, IEEE Signal Processing
/// Magazine 16(6) (1999) 22), so that the spline meets the field at the nodes and loses 1.5 % of amplitude at the shortest wave between
/// them. Along, the period exceeds the asked length by four correlation lengths, so that its ends do not know each other.
/// </remarks>
public sealed class RandomField
{
    /// <summary>Most nodes of a grid: 64 MB of coefficients, three times that while they are made.</summary>
    public const int MostNodes = 1 << 24;

    private readonly float[] _coefficients;
    private readonly int _nodesAlong;
    private readonly int _nodesAround;
    private readonly double _nodesPerMetreAlong;
    private readonly double _nodesPerMetreAround;

    /// <summary>Makes the field.</summary>
    /// <param name="settings">What it looks like.</param>
    /// <param name="seed">Seed of the whole scene.</param>
    /// <param name="stream">Sequence of random numbers, from <see cref="CounterNoise.Stream"/>.</param>
    /// <exception cref="ArgumentException">A length is not positive, or the grid would exceed <see cref="MostNodes"/>; see <see cref="NodesOf"/>.</exception>
    public RandomField(RandomFieldSettings settings, ulong seed, ulong stream)
    {
        ArgumentNullException.ThrowIfNull(settings);
        (long along, long around) = NodesOf(settings);
        if (along * around > MostNodes)
            throw new ArgumentException(
                $"The field needs {along} x {around} nodes; at most {MostNodes} are made.",
                nameof(settings)
            );
        (_nodesAlong, _nodesAround) = ((int)along, (int)around);
        PeriodAlongMetres = Period(settings.LengthMetres, settings.CorrelationAlongMetres, false);
        PeriodAroundMetres = Period(settings.WidthMetres, settings.CorrelationAroundMetres, settings.IsClosedAround);
        _nodesPerMetreAlong = _nodesAlong / PeriodAlongMetres;
        _nodesPerMetreAround = _nodesAround / PeriodAroundMetres;
        _coefficients = Synthesise(settings, seed, stream);
    }

    /// <summary>Length along after which the field repeats, metres; longer than the length asked.</summary>
    public double PeriodAlongMetres { get; }

    /// <summary>Length around after which the field repeats, metres; the girth of a closed one.</summary>
    public double PeriodAroundMetres { get; }

    /// <summary>Nodes of the grid that a field needs.</summary>
    /// <param name="settings">What it looks like.</param>
    /// <exception cref="ArgumentOutOfRangeException">A length is not positive.</exception>
    public static (long Along, long Around) NodesOf(RandomFieldSettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        foreach (
            double length in (double[])
                [
                    settings.LengthMetres,
                    settings.WidthMetres,
                    settings.CorrelationAlongMetres,
                    settings.CorrelationAroundMetres,
                    settings.ShortestWavelengthMetres ?? 1,
                ]
        )
            if (!(length > 0) || !double.IsFinite(length))
                throw new ArgumentOutOfRangeException(nameof(settings), length, "Lengths must be positive.");
        return (
            Nodes(settings, Period(settings.LengthMetres, settings.CorrelationAlongMetres, false), true),
            Nodes(
                settings,
                Period(settings.WidthMetres, settings.CorrelationAroundMetres, settings.IsClosedAround),
                false
            )
        );
    }

    /// <summary>Value at a point.</summary>
    /// <param name="alongMetres">Along, from the start of the field.</param>
    /// <param name="aroundMetres">Around, from the start of the field.</param>
    public double ValueAt(double alongMetres, double aroundMetres)
    {
        Span<double> value = [0.0];
        Add(alongMetres, 0, 1, aroundMetres, 0, 1, [1.0], [1.0], value, 1);
        return value[0];
    }

    /// <summary>Adds the field over a regular grid of points, times a factor a row and a factor a column.</summary>
    /// <param name="firstAlongMetres">Along of the first row.</param>
    /// <param name="stepAlongMetres">Distance of rows.</param>
    /// <param name="rows">Rows.</param>
    /// <param name="firstAroundMetres">Around of the first column.</param>
    /// <param name="stepAroundMetres">Distance of columns.</param>
    /// <param name="columns">Columns.</param>
    /// <param name="rowFactor">Shape [row].</param>
    /// <param name="columnFactor">Shape [column].</param>
    /// <param name="values">Shape [row, column], added to.</param>
    /// <param name="stride">Values from the beginning of one row to that of the next.</param>
    public void Add(
        double firstAlongMetres,
        double stepAlongMetres,
        int rows,
        double firstAroundMetres,
        double stepAroundMetres,
        int columns,
        ReadOnlySpan<double> rowFactor,
        ReadOnlySpan<double> columnFactor,
        Span<double> values,
        int stride
    )
    {
        const int most = 256;
        Span<double> weights = stackalloc double[4 * Math.Min(most, columns)];
        Span<int> nodes = stackalloc int[Math.Min(most, columns)];
        Span<float> line = stackalloc float[4 * Math.Min(most, columns)];
        Span<double> across = stackalloc double[4];
        for (int start = 0; start < columns; start += most)
        {
            int count = Math.Min(most, columns - start);
            for (int j = 0; j < count; j++)
            {
                double position = (firstAroundMetres + (start + j) * stepAroundMetres) * _nodesPerMetreAround;
                double cell = Math.Floor(position);
                Weights(position - cell, columnFactor[start + j], weights.Slice(4 * j, 4));
                nodes[j] = Wrap(cell - 1, _nodesAround);
            }
            // Columns closer than a node share their nodes: blend the four rows once a node, not once a column.
            int span = SpanOf(nodes[..count]);
            bool blended = span <= line.Length;
            for (int row = 0; row < rows; row++)
            {
                if (rowFactor[row] == 0)
                    continue;
                Span<double> target = values.Slice(row * stride + start, count);
                double position = (firstAlongMetres + row * stepAlongMetres) * _nodesPerMetreAlong;
                double cell = Math.Floor(position);
                Weights(position - cell, 1, across);
                int node = Wrap(cell - 1, _nodesAlong);
                ReadOnlySpan<float> r0 = Row(node);
                ReadOnlySpan<float> r1 = Row(Next(node, 1));
                ReadOnlySpan<float> r2 = Row(Next(node, 2));
                ReadOnlySpan<float> r3 = Row(Next(node, 3));
                if (blended)
                    AddBlended(rowFactor[row], across, r0, r1, r2, r3, nodes[..count], weights, line[..span], target);
                else
                    AddEach(rowFactor[row], across, r0, r1, r2, r3, nodes[..count], weights, target);
            }
        }
    }

    private static double Period(double length, double correlation, bool closed) =>
        closed ? length : length + 4 * correlation;

    /// <summary>Nodes of one axis: four to the shortest wavelength, a power of two for the transform, at least 8.</summary>
    private static long Nodes(RandomFieldSettings settings, double period, bool along)
    {
        double needed = Math.Max(8, 4 * period / ShortestMetres(settings, along));
        return needed > 1L << 30
            ? 1L << 31
            : (long)System.Numerics.BitOperations.RoundUpToPowerOf2((ulong)Math.Ceiling(needed));
    }

    /// <summary>Shortest wavelength of one axis; the Gaussian spectrum exp(-κ²/4) is a millionth at κ = 7.434.</summary>
    internal static double ShortestMetres(RandomFieldSettings settings, bool along)
    {
        double correlation = along ? settings.CorrelationAlongMetres : settings.CorrelationAroundMetres;
        if (settings.Spectrum == RoughnessSpectrum.Gaussian)
            return 2 * Math.PI * correlation / 7.434;
        double smaller = Math.Min(settings.CorrelationAlongMetres, settings.CorrelationAroundMetres);
        // A given wavelength is that of the shorter correlation; the cut-off is the same ellipse as the spectrum.
        return (settings.ShortestWavelengthMetres ?? smaller / 5) * correlation / smaller;
    }

    private static double Density(RandomFieldSettings settings, double kappa2) =>
        settings.Spectrum switch
        {
            RoughnessSpectrum.Gaussian => Math.Exp(-kappa2 / 4),
            RoughnessSpectrum.Exponential => Math.Pow(1 + kappa2, -1.5),
            _ => Math.Pow(1 + kappa2, -1 - settings.HurstExponent),
        };

    private static void Weights(double fraction, double factor, Span<double> weights)
    {
        double rest = 1 - fraction;
        double sixth = factor / 6;
        weights[0] = sixth * rest * rest * rest;
        weights[1] = sixth * (4 + fraction * fraction * (3 * fraction - 6));
        weights[2] = sixth * (4 + rest * rest * (3 * rest - 6));
        weights[3] = sixth * fraction * fraction * fraction;
    }

    private static int Wrap(double node, int nodes)
    {
        int wrapped = (int)(node - nodes * Math.Floor(node / nodes));
        return wrapped < nodes ? wrapped : 0;
    }

    private ReadOnlySpan<float> Row(int node) => _coefficients.AsSpan(node * _nodesAround, _nodesAround);

    private int Next(int node, int steps) => node + steps < _nodesAlong ? node + steps : node + steps - _nodesAlong;

    /// <summary>Nodes from the first column's first to the last column's last, going round.</summary>
    private int SpanOf(ReadOnlySpan<int> nodes)
    {
        long span = 4;
        for (int j = 1; j < nodes.Length; j++)
        {
            int step = nodes[j] - nodes[j - 1];
            span += step >= 0 ? step : step + _nodesAround;
        }
        return (int)Math.Min(span, int.MaxValue);
    }

    private void AddBlended(
        double factor,
        ReadOnlySpan<double> across,
        ReadOnlySpan<float> r0,
        ReadOnlySpan<float> r1,
        ReadOnlySpan<float> r2,
        ReadOnlySpan<float> r3,
        ReadOnlySpan<int> nodes,
        ReadOnlySpan<double> weights,
        Span<float> line,
        Span<double> target
    )
    {
        // Blend the four rows node by node; a line that goes over the end of the grid is done in pieces.
        int node = nodes[0];
        for (int done = 0; done < line.Length; )
        {
            int count = Math.Min(line.Length - done, _nodesAround - node);
            Span<float> part = line.Slice(done, count);
            TensorPrimitives.Multiply(r0.Slice(node, count), (float)across[0], part);
            TensorPrimitives.MultiplyAdd(r1.Slice(node, count), (float)across[1], part, part);
            TensorPrimitives.MultiplyAdd(r2.Slice(node, count), (float)across[2], part, part);
            TensorPrimitives.MultiplyAdd(r3.Slice(node, count), (float)across[3], part, part);
            done += count;
            node = 0;
        }
        int at = 0;
        for (int j = 0; j < target.Length; j++)
        {
            if (j > 0)
            {
                int step = nodes[j] - nodes[j - 1];
                at += step >= 0 ? step : step + _nodesAround;
            }
            ReadOnlySpan<float> l = line.Slice(at, 4);
            ReadOnlySpan<double> w = weights.Slice(4 * j, 4);
            target[j] += factor * (w[3] * l[3] + w[2] * l[2] + w[1] * l[1] + w[0] * l[0]);
        }
    }

    private void AddEach(
        double factor,
        ReadOnlySpan<double> across,
        ReadOnlySpan<float> r0,
        ReadOnlySpan<float> r1,
        ReadOnlySpan<float> r2,
        ReadOnlySpan<float> r3,
        ReadOnlySpan<int> nodes,
        ReadOnlySpan<double> weights,
        Span<double> target
    )
    {
        for (int j = 0; j < target.Length; j++)
        {
            int node = nodes[j];
            double sum = 0;
            for (int i = 0; i < 4; i++)
            {
                float blend = r0[node] * (float)across[0];
                blend = r1[node] * (float)across[1] + blend;
                blend = r2[node] * (float)across[2] + blend;
                blend = r3[node] * (float)across[3] + blend;
                sum += weights[4 * j + i] * blend;
                if (++node == _nodesAround)
                    node = 0;
            }
            target[j] += factor * sum;
        }
    }

    private float[] Synthesise(RandomFieldSettings settings, ulong seed, ulong stream)
    {
        int rows = _nodesAlong;
        int columns = _nodesAround;
        var spectrum = new Complex32[rows * columns];
        double stepAlong = 2 * Math.PI / PeriodAlongMetres * settings.CorrelationAlongMetres;
        double stepAround = 2 * Math.PI / PeriodAroundMetres * settings.CorrelationAroundMetres;
        double limit = 2 * Math.PI * settings.CorrelationAlongMetres / ShortestMetres(settings, true);
        int mostAlong = (int)Math.Min(rows / 2 - 1, Math.Floor(limit / stepAlong));
        int mostAround = (int)Math.Min(columns / 2 - 1, Math.Floor(limit / stepAround));
        // Sums row by row in a fixed order: the same on any number of threads.
        double power = 0;
        for (int m = -mostAlong; m <= mostAlong; m++)
        for (int n = -mostAround; n <= mostAround; n++)
            power += DensityOf(m, n);
        double scale = power > 0 ? 1 / Math.Sqrt(power) : 0;
        Parallel.For(
            -mostAlong,
            mostAlong + 1,
            m =>
            {
                double along = (2 + Math.Cos(2 * Math.PI * m / rows)) / 3;
                int row = (m + rows) % rows * columns;
                for (int n = -mostAround; n <= mostAround; n++)
                {
                    double density = DensityOf(m, n);
                    if (density == 0)
                        continue;
                    double around = (2 + Math.Cos(2 * Math.PI * n / columns)) / 3;
                    ulong wave = ((ulong)(uint)m << 31) ^ (uint)n;
                    (double a, double b) = CounterNoise.NormalPair(seed, stream, wave);
                    double amplitude = scale * Math.Sqrt(density) / (along * around);
                    spectrum[row + (n + columns) % columns] = new Complex32(
                        (float)(amplitude * a),
                        (float)(amplitude * b)
                    );
                }
            }
        );
        Transform(spectrum, rows, columns, mostAlong);
        var real = new float[spectrum.Length];
        for (int i = 0; i < real.Length; i++)
            real[i] = spectrum[i].Real;
        return real;

        double DensityOf(int m, int n)
        {
            double kappa2 = m * stepAlong * (m * stepAlong) + n * stepAround * (n * stepAround);
            return kappa2 == 0 || kappa2 > limit * limit ? 0 : Density(settings, kappa2);
        }
    }

    /// <summary>Unscaled inverse transform in both axes; rows beyond the highest wave along are zero and stay so until the columns.</summary>
    private static void Transform(Complex32[] spectrum, int rows, int columns, int mostAlong)
    {
        Parallel.For(
            -mostAlong,
            mostAlong + 1,
            () => new Complex32[columns],
            (m, _, line) =>
            {
                Span<Complex32> row = spectrum.AsSpan((m + rows) % rows * columns, columns);
                row.CopyTo(line);
                Fourier.Inverse(line, FourierOptions.NoScaling);
                line.CopyTo(row);
                return line;
            },
            _ => { }
        );
        Parallel.For(
            0,
            columns,
            () => new Complex32[rows],
            (column, _, line) =>
            {
                for (int r = 0; r < rows; r++)
                    line[r] = spectrum[r * columns + column];
                Fourier.Inverse(line, FourierOptions.NoScaling);
                for (int r = 0; r < rows; r++)
                    spectrum[r * columns + column] = line[r];
                return line;
            },
            _ => { }
        );
    }
}
