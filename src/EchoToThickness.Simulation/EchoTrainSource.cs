using System.Runtime.InteropServices;
using EchoToThickness.Stacks;

namespace EchoToThickness.Simulation;

/// <summary>A scene as a stack with truth: A-scans are computed when they are read, so a scene of any size needs no memory.</summary>
public sealed class EchoTrainSource : IAScanSource, ITruthSource
{
    private static readonly string[] Layers = ["thickness", "couplant_path", "reflector_depth"];

    /// <summary>Wraps a scene.</summary>
    /// <param name="scene">The scene.</param>
    /// <param name="component">The component; null for a plate of the scene's nominal wall.</param>
    public EchoTrainSource(EchoTrainScene scene, ComponentFacts? component = null)
    {
        ArgumentNullException.ThrowIfNull(scene);
        Scene = scene;
        Info = new StackInfo
        {
            Name = scene.Name,
            Shape = new StackShape(scene.Scans, scene.Beams, scene.Samples),
            SampleType = SampleType.Int16,
            TimeBase = new TimeBase { SampleRateHz = scene.SampleRateHz, StartSeconds = scene.StartSeconds },
            Amplitude = AmplitudeScale.For(SampleType.Int16),
            Acquisition = new AcquisitionFacts
            {
                FrequencyHz = scene.FrequencyHz,
                BandwidthFraction = scene.BandwidthFraction,
                PitchMetres = scene.IndexPitchMetres,
                VelocityMetresPerSecond = scene.VelocityMetresPerSecond,
                CouplantVelocityMetresPerSecond = scene.CouplantVelocityMetresPerSecond,
            },
            Component = component ?? new ComponentFacts { NominalWallMetres = scene.Wall.NominalMetres },
            ScanPositionsMetres = Positions(scene.Scans, scene.ScanPitchMetres),
            IndexPositionsMetres = Positions(scene.Beams, scene.IndexPitchMetres),
        };
    }

    /// <summary>The scene.</summary>
    public EchoTrainScene Scene { get; }

    /// <inheritdoc/>
    public StackInfo Info { get; }

    /// <inheritdoc/>
    public int ScansPerRead => 1;

    /// <inheritdoc/>
    public IReadOnlyList<string> TruthLayers => Layers;

    /// <inheritdoc/>
    public IAScanReader OpenReader() => new Reader(this);

    /// <inheritdoc/>
    public void ReadTruth(string layer, int firstScan, int scanCount, Span<double> destinationMetres)
    {
        var renderer = new EchoTrainRenderer(Scene);
        Func<int, int, double> value = layer switch
        {
            "thickness" => renderer.ThicknessMetres,
            "couplant_path" => renderer.CouplantPathMetres,
            "reflector_depth" => renderer.ReflectorDepthMetres,
            _ => throw new ArgumentException($"A simulated stack has no truth layer '{layer}'.", nameof(layer)),
        };
        for (int scan = 0; scan < scanCount; scan++)
        {
            for (int beam = 0; beam < Scene.Beams; beam++)
                destinationMetres[scan * Scene.Beams + beam] = value(firstScan + scan, beam);
        }
    }

    /// <inheritdoc/>
    public void Dispose() { }

    private static double[] Positions(int count, double pitchMetres)
    {
        var positions = new double[count];
        for (int i = 0; i < count; i++)
            positions[i] = i * pitchMetres;
        return positions;
    }

    private sealed class Reader(EchoTrainSource source) : IAScanReader
    {
        private readonly EchoTrainRenderer _renderer = new(source.Scene);
        private short[] _counts = [];
        private byte[] _present = [];

        public AScanBlock Lend(int firstScan, int scanCount, int firstBeam, int beamCount)
        {
            int cells = scanCount * beamCount;
            int samples = source.Scene.Samples;
            if (_present.Length < cells)
            {
                _counts = new short[cells * samples];
                _present = new byte[cells];
            }
            for (int cell = 0; cell < cells; cell++)
            {
                int scan = firstScan + cell / beamCount;
                int beam = firstBeam + cell % beamCount;
                _renderer.Render(scan, beam, _counts.AsSpan(cell * samples, samples));
                _present[cell] = _renderer.IsScanned(scan, beam) ? (byte)1 : (byte)0;
            }
            return new AScanBlock(
                source.Info,
                firstScan,
                scanCount,
                firstBeam,
                beamCount,
                MemoryMarshal.AsBytes(_counts.AsSpan(0, cells * samples)),
                _present.AsSpan(0, cells)
            );
        }

        public void Dispose() { }
    }
}
