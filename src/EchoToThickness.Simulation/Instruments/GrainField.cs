using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using EchoToThickness.Signals;
using EchoToThickness.Simulation.Random;

namespace EchoToThickness.Simulation.Instruments;

/// <summary>
/// Coherent grain noise: what the microstructure sends back. It lives in the metal, not in the A-scan: a beam that comes back to the same
/// place hears the same noise at the same depth, and neighbouring beams hear alike as far as their beams overlap.
/// </summary>
/// <remarks>
/// <para>Model: weak, dense, single scattering. Every node of a lattice over the surface has its own stretch of Gaussian noise over depth
/// with the spectrum of the pulse; a beam is the sum of 5 × 5 nodes with Gaussian weights <c>exp(-d²/2s²)</c>, scaled to unit variance, so
/// that two beams at a distance d correlate as the overlap of their weights, <c>exp(-d²/4s²)</c> (as the autocorrelation of the
/// insonified area in speckle statistics: Wagner, Smith, Sandrik and Lopez, "Statistics of speckle in ultrasound B-scans", IEEE Trans.
/// Sonics Ultrason. 30, 1983). The correlation distance is that at which 1/e is left, <c>2 s</c>. Depth: after a rise over one pulse
/// length the noise decays by a fixed number of decibels per metre.</para>
/// <para>Simplified: the spectrum does not change with depth or with the scattering law of the grains; the beam does not spread; what
/// comes from behind the first back wall goes on as if the metal did; the lattice does not close around a girth. Nodes take their stretch
/// from one circular tape of 65,536 samples at offsets and with signs of their own: two nodes of one beam share metal by chance in one of
/// some thirty cases, at another depth.</para>
/// <para>Time is rounded to an eighth of a sample at worst (four phases of the tape). Immutable, allocation-free per cell.</para>
/// </remarks>
public sealed class GrainField
{
    private const int Phases = 4;
    private const int TapeLength = 1 << 16;
    private const int Nodes = 5;
    private const double NodesPerSigma = 0.8;
    private readonly float[][] _tape;
    private readonly float[] _decay;
    private readonly double _sampleRateHz;
    private readonly double _sigmaMetres;
    private readonly double _nodeMetres;
    private readonly int _rise;
    private readonly ulong _seed;

    /// <summary>Prepares a field.</summary>
    /// <param name="seed">Seed of the scene.</param>
    /// <param name="frequencyHz">Centre of the pulse's spectrum, hertz.</param>
    /// <param name="bandwidthFraction">Its relative width at -6 dB.</param>
    /// <param name="correlationMetres">Distance at which the noise of two beams has a correlation of 1/e, metres.</param>
    /// <param name="decayDecibelsPerSecond">Loss with time behind the interface, decibels per second.</param>
    /// <param name="sampleRateHz">Samples a second.</param>
    /// <param name="samples">Samples of the longest A-scan.</param>
    public GrainField(
        ulong seed,
        double frequencyHz,
        double bandwidthFraction,
        double correlationMetres,
        double decayDecibelsPerSecond,
        double sampleRateHz,
        int samples
    )
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(samples);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(sampleRateHz);
        _seed = seed;
        _sampleRateHz = sampleRateHz;
        _sigmaMetres = Math.Max(correlationMetres / 2, 1e-6);
        _nodeMetres = _sigmaMetres / NodesPerSigma;
        GaborPulse pulse = new(frequencyHz, bandwidthFraction);
        _rise = Math.Max(1, (int)Math.Round(2 * pulse.SigmaSeconds * sampleRateHz));
        _decay = new float[samples];
        for (int i = 0; i < samples; i++)
        {
            _decay[i] = (float)(
                Math.Min(1, (i + 0.5) / _rise) * Math.Pow(10, -decayDecibelsPerSecond * i / sampleRateHz / 20)
            );
        }
        _tape = Tape(seed, pulse, sampleRateHz, samples);
    }

    /// <summary>Adds the noise of one beam.</summary>
    /// <param name="samples">Shape [sample]; changed in place.</param>
    /// <param name="alongMetres">Place of the beam, true length along, metres.</param>
    /// <param name="aroundMetres">Place of the beam around, metres.</param>
    /// <param name="interfaceSample">Place of the interface in the A-scan, samples; may lie before or behind it.</param>
    /// <param name="rms">Root mean square just behind the interface, in the unit of the samples.</param>
    public void Add(Span<float> samples, double alongMetres, double aroundMetres, double interfaceSample, double rms)
    {
        if (!(rms > 0) || !(interfaceSample < samples.Length) || samples.Length > _decay.Length)
            return;
        // The first sample at or behind the interface, and how far behind it lies, in quarters of a sample.
        double first = Math.Ceiling(Math.Max(interfaceSample, -_decay.Length));
        int phase = (int)Math.Round((first - interfaceSample) * Phases);
        int skip = phase == Phases ? 1 : 0;
        phase -= skip * Phases;
        int start = (int)first;
        int from = Math.Max(start, 0);
        int behind = from - start;
        int count = Math.Min(samples.Length - from, _decay.Length - behind);
        if (interfaceSample < -_decay.Length || count <= 0)
            return;

        Span<float> weights = stackalloc float[Nodes * Nodes];
        Span<int> offsets = stackalloc int[Nodes * Nodes];
        Choose(alongMetres / _nodeMetres, aroundMetres / _nodeMetres, rms, behind + skip, weights, offsets);
        Sum(samples.Slice(from, count), _decay.AsSpan(behind, count), _tape[phase], weights, offsets);
    }

    private void Choose(double along, double around, double rms, int behind, Span<float> weights, Span<int> offsets)
    {
        int nearA = (int)Math.Round(along);
        int nearC = (int)Math.Round(around);
        double scale = _nodeMetres / _sigmaMetres;
        double power = 0;
        Span<double> raw = stackalloc double[Nodes * Nodes];
        for (int i = 0; i < raw.Length; i++)
        {
            int a = nearA + i / Nodes - Nodes / 2;
            int c = nearC + i % Nodes - Nodes / 2;
            double x = (a - along) * scale;
            double y = (c - around) * scale;
            double weight = Math.Exp(-(x * x + y * y) / 2);
            power += weight * weight;
            ulong bits = CounterNoise.Bits(_seed, Streams.Of(RandomStream.Grain, a, c), 0);
            raw[i] = (bits & 1) == 0 ? weight : -weight;
            offsets[i] = (int)((bits >> 1) % TapeLength + (ulong)behind) % TapeLength;
        }
        for (int i = 0; i < raw.Length; i++)
            weights[i] = (float)(raw[i] * rms / Math.Sqrt(power));
    }

    private static void Sum(
        Span<float> samples,
        ReadOnlySpan<float> decay,
        ReadOnlySpan<float> tape,
        ReadOnlySpan<float> weights,
        ReadOnlySpan<int> offsets
    )
    {
        ref float to = ref MemoryMarshal.GetReference(samples);
        ref float from = ref MemoryMarshal.GetReference(tape);
        ref float fall = ref MemoryMarshal.GetReference(decay);
        int i = 0;
        for (; i + 8 <= samples.Length; i += 8)
        {
            Vector256<float> sum = Vector256<float>.Zero;
            for (int node = 0; node < weights.Length; node++)
            {
                sum += Vector256.Create(weights[node]) * Vector256.LoadUnsafe(ref from, (nuint)(offsets[node] + i));
            }
            (Vector256.LoadUnsafe(ref to, (nuint)i) + sum * Vector256.LoadUnsafe(ref fall, (nuint)i)).StoreUnsafe(
                ref to,
                (nuint)i
            );
        }
        for (; i < samples.Length; i++)
        {
            float sum = 0;
            for (int node = 0; node < weights.Length; node++)
                sum += weights[node] * tape[offsets[node] + i];
            samples[i] += sum * decay[i];
        }
    }

    // White noise at four times the sample rate, with the amplitude spectrum of the pulse, unit variance; dealt out to four phases, each
    // followed by its own beginning so that a stretch may run over the seam.
    private static float[][] Tape(ulong seed, GaborPulse pulse, double sampleRateHz, int samples)
    {
        const int length = TapeLength * Phases;
        var white = new float[length];
        NormalNoise.Fill(white, 1, seed, Streams.Of(RandomStream.Grain, -1, -1, -1));
        var real = new double[length];
        var imaginary = new double[length];
        for (int i = 0; i < length; i++)
            real[i] = white[i];
        FourierTransform transform = new(length);
        transform.Forward(real, imaginary);
        for (int k = 0; k < length; k++)
        {
            double frequency = Math.Min(k, length - k) * sampleRateHz * Phases / length;
            double x = 2 * Math.PI * (frequency - pulse.FrequencyHz) * pulse.SigmaSeconds;
            double gain = Math.Exp(-x * x / 2);
            real[k] *= gain;
            imaginary[k] *= gain;
        }
        transform.Inverse(real, imaginary);
        double power = 0;
        foreach (double value in real)
            power += value * value;
        double scale = Math.Sqrt(length / power);
        var tape = new float[Phases][];
        for (int phase = 0; phase < Phases; phase++)
        {
            tape[phase] = new float[TapeLength + samples + 8];
            for (int i = 0; i < tape[phase].Length; i++)
                tape[phase][i] = (float)(real[i % TapeLength * Phases + phase] * scale);
        }
        return tape;
    }
}
