using System.Numerics;

namespace EchoToThickness.Simulation.Waves;

/// <summary>Scratch of the echo model; one a thread, made by <see cref="WaveModel.CreateWorkspace"/>. Grows to what the largest cell needs.</summary>
public sealed class WaveWorkspace
{
    private readonly FrequencyGrid _grid;
    private double _rotationsForHz;
    private float[] _rotations = [];
    private FieldSamples? _uniform;
    private readonly Complex[]?[] _classRatios = new Complex[]?[MostClasses];
    private readonly Complex[]?[] _keptRatios = new Complex[]?[LayerSeries.MostMetal];

    internal WaveWorkspace(FrequencyGrid grid)
    {
        _grid = grid;
        int count = grid.Count;
        Spectrum = new Complex[count];
        Ratio = new Complex[count];
        MetalPass = new Complex[count];
        MetalPower = new Complex[count];
        CouplantPass = new double[count];
        OneRow = new Complex[LayerSeries.MostCouplant * (LayerSeries.MostMetal + 1)];
        Real = new float[count];
        Imaginary = new float[count];
        FootprintSums = new float[2 * FootprintKernel.Lanes * count];
    }

    /// <summary>Most classes of depth in a patch.</summary>
    internal const int MostClasses = 12;

    internal LayerSeries Series { get; } = new();

    /// <summary>Shape [class]: classes of depth in hand.</summary>
    internal DepthClass[] Classes { get; } = new DepthClass[MostClasses];

    /// <summary>Shape [term]: spectrum of the echo in hand.</summary>
    internal Complex[] Spectrum { get; }

    /// <summary>Shape [term]: footprint sum over that of a flat wall.</summary>
    internal Complex[] Ratio { get; }

    /// <summary>Shape [term]: attenuation and dispersion of one round trip in the metal.</summary>
    internal Complex[] MetalPass { get; }

    /// <summary>Shape [term]: the same for the order in hand.</summary>
    internal Complex[] MetalPower { get; }

    /// <summary>Shape [term]: attenuation of one pass of the couplant.</summary>
    internal double[] CouplantPass { get; }

    /// <summary>Shape [p - 1, n]: coefficients of a bare front.</summary>
    internal Complex[] OneRow { get; }

    /// <summary>Shape [term, p - 1, n]: coefficients of a coated front.</summary>
    internal Complex[] Rows { get; private set; } = [];

    internal float[] Real { get; }

    internal float[] Imaginary { get; }

    internal float[] FootprintSums { get; }

    /// <summary>Shape [row, padded point]: metal of the patch, metres.</summary>
    internal float[] Metal { get; private set; } = [];

    /// <summary>Shape [row, padded point]: metal beyond the reference times the order.</summary>
    internal float[] Heights { get; private set; } = [];

    /// <summary>Shape [row, padded point]: reflection of the slope; 0 in the padding.</summary>
    internal float[] SlopeWeights { get; private set; } = [];

    /// <summary>Shape [row, padded point]: the same, 0 outside the class in hand.</summary>
    internal float[] Weights { get; private set; } = [];

    /// <summary>Sums of one window.</summary>
    internal float[] Window { get; private set; } = [];

    /// <summary>Rotation tables for a sample rate.</summary>
    internal ReadOnlySpan<float> Rotations(double sampleRateHz)
    {
        if (_rotationsForHz != sampleRateHz)
        {
            _rotations = SynthesisKernel.Rotations(_grid.Hertz, sampleRateHz);
            _rotationsForHz = sampleRateHz;
        }
        return _rotations;
    }

    /// <summary>Shape [term]: footprint sum of a class.</summary>
    internal Complex[] ClassRatio(int index) => _classRatios[index] ??= new Complex[_grid.Count];

    /// <summary>Shape [term]: product that is put aside while deeper terms are formed.</summary>
    internal Complex[] KeptRatio(int level)
    {
        int index = Math.Min(level, _keptRatios.Length) - 1;
        return _keptRatios[index] ??= new Complex[_grid.Count];
    }

    /// <summary>The row of a side without limits, kept for the next cell.</summary>
    internal FieldSamples UniformRow(int count, double spacingMetres)
    {
        if (_uniform is null || _uniform.Count != count || _uniform.SpacingMetres != spacingMetres)
            _uniform = FieldSamples.Uniform(count, spacingMetres, _grid.Count);
        return _uniform;
    }

    internal Span<float> WindowOf(int samples)
    {
        int padded = (samples + SynthesisKernel.Lanes - 1) / SynthesisKernel.Lanes * SynthesisKernel.Lanes;
        if (Window.Length < padded)
            Window = new float[padded];
        return Window.AsSpan(0, padded);
    }

    internal void RoomForRows(int length)
    {
        if (Rows.Length < length)
            Rows = new Complex[length];
    }

    internal void RoomForPatch(int length)
    {
        if (Metal.Length >= length)
            return;
        Metal = new float[length];
        Heights = new float[length];
        SlopeWeights = new float[length];
        Weights = new float[length];
    }
}
