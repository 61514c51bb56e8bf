using System.Runtime.InteropServices;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;

namespace EchoToThickness.MapStudy;

/// <summary>
/// A map with planted failures as a stack: smooth thinning and shallow roughness, an echo train whose echoes vary in strength and time,
/// white noise whose level steps along the scan, and in a stated part of the cells one of <see cref="Planted"/>. A-scans are computed when
/// they are read; everything random is a function of seed, cell and purpose.
/// </summary>
internal sealed class PlantedMap : IAScanSource
{
    public const double Velocity = 5920;
    public const double Frequency = 7e6;
    private const double Rate = 100e6;
    private const double Start = 2e-6;
    private const int Samples = 1100;
    private const double Interface = 0.6;
    private const double Nominal = 9e-3;

    // sqrt(2 ln 2) / (pi 0.6 f): a Gaussian of 60 % bandwidth at -6 dB.
    private static readonly double Sigma = Math.Sqrt(2 * Math.Log(2)) / (Math.PI * 0.6 * Frequency);
    private readonly ulong _seed;
    private readonly double _share;
    private readonly double[] _noise;
    private readonly Planted[] _kinds;

    /// <summary>Makes a map.</summary>
    /// <param name="scans">Scan positions.</param>
    /// <param name="beams">Beams.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="share">Part of the cells with a planted failure, 0 for a clean map.</param>
    /// <param name="ratiosDecibels">Back-wall echo 1 over noise, one level a stretch of scan lines.</param>
    /// <param name="kinds">What may be planted.</param>
    /// <param name="neighbours">Which axes are declared neighbours.</param>
    public PlantedMap(
        int scans,
        int beams,
        ulong seed,
        double share,
        double[] ratiosDecibels,
        Planted[] kinds,
        NeighbourAxes neighbours = NeighbourAxes.Both
    )
    {
        _seed = seed;
        _share = share;
        _kinds = kinds;
        _noise = [.. ratiosDecibels.Select(d => First * Math.Pow(10, -d / 20))];
        Info = new StackInfo
        {
            Name = "planted map",
            Shape = new StackShape(scans, beams, Samples),
            SampleType = SampleType.Int16,
            TimeBase = new TimeBase { SampleRateHz = Rate, StartSeconds = Start },
            Amplitude = AmplitudeScale.For(SampleType.Int16),
            Acquisition = new AcquisitionFacts
            {
                FrequencyHz = Frequency,
                BandwidthFraction = 0.6,
                VelocityMetresPerSecond = Velocity,
                CouplantVelocityMetresPerSecond = 1480,
            },
            Component = new ComponentFacts { NominalWallMetres = Nominal },
            Neighbours = neighbours,
        };
    }

    /// <summary>Strength of back-wall echo 1: transmission in and out of steel under water, 1 - R² = 0.12, and a loss of 1.5 dB.</summary>
    private static double First => Interface * 0.12 / 0.938 * 0.84;

    public StackInfo Info { get; }

    public int ScansPerRead => 1;

    public IAScanReader OpenReader() => new Reader(this);

    public void Dispose() { }

    /// <summary>Back-wall echo 1 over noise at a scan position, decibels.</summary>
    public double RatioDecibels(int scan) => 20 * Math.Log10(First / Noise(scan));

    /// <summary>What a cell holds.</summary>
    public Planted KindOf(int scan, int beam)
    {
        if (_kinds.Contains(Planted.Lamination) && _share > 0 && Random(scan / 8, beam / 8, 1) < 0.02)
            return LaminationPart(scan, beam) is var part && First * (1 - part) < 8 * Noise(scan)
                ? Planted.LaminationOverFaintWall
                : Planted.Lamination;
        if (Random(scan, beam, 2) >= _share)
            return Planted.None;
        return _kinds[(int)(Random(scan, beam, 3) * _kinds.Length)];
    }

    /// <summary>The wall around a cell, without a pit of its own.</summary>
    public double AroundMetres(int scan, int beam)
    {
        double u = (scan % 160 - 80) / 40.0;
        double v = (beam - 60) / 30.0;
        return Nominal - 2.5e-3 * Math.Exp(-u * u - v * v) + 0.05e-3 * Math.Sin(scan * 0.9) * Math.Cos(beam * 1.3);
    }

    /// <summary>The wall of a cell, metres; the bottom of a pit where there is one.</summary>
    public double WallMetres(int scan, int beam) =>
        KindOf(scan, beam) is Planted.PitOfOneCell or Planted.FaintPit or Planted.PartPit
            ? AroundMetres(scan, beam) * (0.35 + 0.4 * Random(scan, beam, 4))
            : AroundMetres(scan, beam);

    /// <summary>Depth of a planted lamination.</summary>
    public double LaminationMetres(int scan, int beam) => (0.25 + 0.4 * Random(scan / 8, beam / 8, 5)) * Nominal;

    private double LaminationPart(int scan, int beam) => 0.35 + 0.2 * Random(scan / 8, beam / 8, 21);

    private double Noise(int scan) => _noise[(int)((long)scan * _noise.Length / Info.Shape.Scans)];

    private double Random(int scan, int beam, ulong purpose)
    {
        ulong bits = SplitMix64.Mix(
            SplitMix64.Mix(_seed ^ SplitMix64.Mix((ulong)scan * 65537 + (ulong)beam + SplitMix64.Increment))
                + (purpose + 1) * SplitMix64.Increment
        );
        return (bits >> 11) * (1.0 / (1UL << 53));
    }

    private double Normal(int scan, int beam, ulong purpose) =>
        Math.Sqrt(-2 * Math.Log(1 - Random(scan, beam, purpose)))
        * Math.Cos(2 * Math.PI * Random(scan, beam, purpose + 500));

    private void Render(int scan, int beam, float[] samples, Span<short> counts)
    {
        Array.Clear(samples);
        Planted kind = KindOf(scan, beam);
        double wall = WallMetres(scan, beam);
        double gap = 2 * (3.1e-3 + 0.3e-3 * Math.Sin(scan * 0.05) + 0.02e-3 * Normal(scan, 0, 10)) / 1480;
        if (kind == Planted.CouplantCollision)
            gap = (Random(scan, beam, 11) < 0.5 ? 1 : 2) * 2 * wall / Velocity + 0.05e-6 * Normal(scan, beam, 12);
        if (kind == Planted.Uncoupled)
        {
            if (Random(scan, beam, 13) < 0.5)
                for (int m = 1; m <= 4; m++)
                    Add(samples, m * gap, Interface * Math.Pow(-0.25, m - 1) * (m % 2 == 0 ? -1 : 1));
        }
        else
        {
            Echoes(scan, beam, kind, wall, gap, samples);
        }
        Finish(scan, beam, samples, counts);
    }

    private void Echoes(int scan, int beam, Planted kind, double wall, double gap, float[] samples)
    {
        Add(samples, gap, Interface);
        for (int m = 2; m <= 4; m++)
            Add(samples, m * gap, Interface * Math.Pow(kind == Planted.CouplantCollision ? 0.2 : 0.06, m - 1));
        double u = Random(scan, beam, 20);
        double weak = kind == Planted.Weak ? Math.Pow(10, -(4 + 18 * u) / 20) : 1;
        double round = 2 * wall / Velocity;
        switch (kind)
        {
            case Planted.Lamination:
            case Planted.LaminationOverFaintWall:
                double part = LaminationPart(scan, beam);
                double depth = 2 * LaminationMetres(scan, beam) / Velocity;
                Train(scan, beam, gap, depth, First * part / 0.84, 0.8 * part, 30, samples);
                Train(scan, beam, gap, round, First * (1 - part), 0.79 * (1 - part), 60, samples);
                return;
            case Planted.FaintPit:
                Add(samples, gap + round, -First * (0.12 + 0.25 * u));
                return;
            case Planted.PartPit:
                Train(scan, beam, gap, round, First * (0.3 + 0.4 * u), 0.5, 30, samples);
                Train(
                    scan,
                    beam,
                    gap,
                    2 * AroundMetres(scan, beam) / Velocity,
                    First * (0.6 - 0.4 * u),
                    0.7,
                    60,
                    samples
                );
                return;
            case Planted.Halved:
                Add(samples, gap + round / 2, -First * (0.4 + 0.7 * u));
                break;
            case Planted.ModeConverted:
                Add(samples, gap + round * 0.5 * (1 + 5920.0 / 3230), -First * (0.5 + 0.5 * u));
                break;
        }
        Train(scan, beam, gap, round, First * weak, kind == Planted.Weak ? 0.55 : 0.79, 30, samples, kind);
    }

    /// <summary>A train whose echoes vary by 1 dB (ragged spots: 4 dB) in strength and a fiftieth of a period in time.</summary>
    private void Train(
        int scan,
        int beam,
        double gap,
        double round,
        double first,
        double decay,
        ulong purpose,
        float[] samples,
        Planted kind = Planted.None
    )
    {
        double amplitude = first;
        for (int order = 1; order <= 12 && amplitude > 2e-4; order++, amplitude *= decay)
        {
            double spread = kind == Planted.Weak ? 4 : 1;
            double strength = amplitude * Math.Pow(10, spread * Normal(scan, beam, purpose + (ulong)order) / 20);
            if (order == 1 && kind == Planted.Doubled)
                strength *= 0.2 * Random(scan, beam, 90);
            if (order == 1 && kind == Planted.ModeConverted)
                strength *= 0.1 + 0.3 * Random(scan, beam, 90);
            double late = 0.02 / Frequency * Normal(scan, beam, purpose + 14 + (ulong)order) * (order > 1 ? 1 : 0.2);
            Add(samples, gap + order * round + late, -strength);
        }
    }

    private static void Add(float[] samples, double seconds, double amplitude)
    {
        int first = (int)Math.Ceiling((seconds - 4.5 * Sigma - Start) * Rate);
        int last = (int)Math.Floor((seconds + 4.5 * Sigma - Start) * Rate);
        for (int i = Math.Max(first, 0); i <= Math.Min(last, samples.Length - 1); i++)
        {
            double t = Start + i / Rate - seconds;
            samples[i] += (float)(
                amplitude * Math.Exp(-0.5 * t * t / (Sigma * Sigma)) * Math.Cos(2 * Math.PI * Frequency * t)
            );
        }
    }

    private void Finish(int scan, int beam, float[] samples, Span<short> counts)
    {
        double sigma = Noise(scan);
        ulong key = SplitMix64.Mix(_seed + 7 + SplitMix64.Mix((ulong)scan * 65537 + (ulong)beam));
        for (int i = 0; i < counts.Length; i += 2)
        {
            key += SplitMix64.Increment;
            double u = (SplitMix64.Mix(key) >> 11) * (1.0 / (1UL << 53));
            key += SplitMix64.Increment;
            double w = (SplitMix64.Mix(key) >> 11) * (2 * Math.PI / (1UL << 53));
            double radius = sigma * Math.Sqrt(-2 * Math.Log(1 - u));
            counts[i] = Count(samples[i] + radius * Math.Cos(w));
            counts[i + 1] = Count(samples[i + 1] + radius * Math.Sin(w));
        }
    }

    private static short Count(double fraction) =>
        (short)Math.Clamp(Math.Round(fraction * short.MaxValue), short.MinValue, short.MaxValue);

    private sealed class Reader(PlantedMap map) : IAScanReader
    {
        private readonly float[] _samples = new float[Samples];
        private short[] _counts = [];

        public AScanBlock Lend(int firstScan, int scanCount, int firstBeam, int beamCount)
        {
            int cells = scanCount * beamCount;
            if (_counts.Length < cells * Samples)
                _counts = new short[cells * Samples];
            for (int cell = 0; cell < cells; cell++)
                map.Render(
                    firstScan + cell / beamCount,
                    firstBeam + cell % beamCount,
                    _samples,
                    _counts.AsSpan(cell * Samples, Samples)
                );
            return new AScanBlock(
                map.Info,
                firstScan,
                scanCount,
                firstBeam,
                beamCount,
                MemoryMarshal.AsBytes(_counts.AsSpan(0, cells * Samples))
            );
        }

        public void Dispose() { }
    }
}
