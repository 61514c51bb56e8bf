using EchoToThickness.Stacks;

namespace EchoToThickness.Simulation.Rendering;

/// <summary>One line of a scene as a stack that is never stored: A-scans are computed when they are read, so it takes no memory.</summary>
public sealed class SceneSource : IAScanSource, ITruthSource, ILabelSource
{
    private readonly SceneModel _model;
    private readonly int _line;

    /// <summary>Makes the source of one line.</summary>
    /// <param name="model">The scene.</param>
    /// <param name="line">Line, counted from 0.</param>
    public SceneSource(SceneModel model, int line)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentOutOfRangeException.ThrowIfNegative(line);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(line, model.Lines);
        _model = model;
        _line = line;
        Info = model.InfoOf(line);
        TruthLayers = SceneTruth.LayersOf(model);
    }

    /// <inheritdoc/>
    public StackInfo Info { get; }

    /// <inheritdoc/>
    public int ScansPerRead => 8;

    /// <inheritdoc/>
    public IReadOnlyList<string> TruthLayers { get; }

    /// <inheritdoc/>
    public IAScanReader OpenReader() => new Reader(this);

    /// <inheritdoc/>
    public void ReadTruth(string layer, int firstScan, int scanCount, Span<double> destinationMetres)
    {
        if (!TruthLayers.Contains(layer))
            throw NoLayer(layer);
        SceneRenderer renderer = _model.CreateRenderer();
        int beams = Info.Shape.Beams;
        for (int cell = 0; cell < scanCount * beams; cell++)
        {
            CellTruth truth = renderer.Truth(_line, firstScan + cell / beams, cell % beams);
            destinationMetres[cell] = SceneTruth.Value(truth, layer);
        }
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> LabelLayers { get; } = [PlantedNames.Layer];

    /// <inheritdoc/>
    public IReadOnlyList<string> LabelNames(string layer) =>
        layer == PlantedNames.Layer ? PlantedNames.All : throw NoLayer(layer);

    /// <inheritdoc/>
    /// <remarks>Labels follow from echoes, so this costs as much as reading the A-scans.</remarks>
    public void ReadLabels(string layer, int firstScan, int scanCount, Span<uint> destination)
    {
        if (layer != PlantedNames.Layer)
            throw NoLayer(layer);
        SceneRenderer renderer = _model.CreateRenderer();
        var stored = new byte[renderer.StoredBytes];
        int beams = Info.Shape.Beams;
        for (int cell = 0; cell < scanCount * beams; cell++)
            destination[cell] = (uint)renderer.Render(_line, firstScan + cell / beams, cell % beams, stored).Planted;
    }

    /// <inheritdoc/>
    public void Dispose() { }

    private static ArgumentException NoLayer(string layer) =>
        new($"A simulated stack has no layer '{layer}'.", nameof(layer));

    private sealed class Reader(SceneSource source) : IAScanReader
    {
        private readonly SceneRenderer _renderer = source._model.CreateRenderer();
        private byte[] _stored = [];
        private byte[] _present = [];

        public AScanBlock Lend(int firstScan, int scanCount, int firstBeam, int beamCount)
        {
            int cells = scanCount * beamCount;
            int size = source.Info.AScanBytes;
            if (_present.Length < cells)
            {
                _stored = new byte[cells * size];
                _present = new byte[cells];
            }
            for (int cell = 0; cell < cells; cell++)
            {
                CellTruth truth = _renderer.Render(
                    source._line,
                    firstScan + cell / beamCount,
                    firstBeam + cell % beamCount,
                    _stored.AsSpan(cell * size, size)
                );
                _present[cell] = truth.IsPresent ? (byte)1 : (byte)0;
            }
            return new AScanBlock(
                source.Info,
                firstScan,
                scanCount,
                firstBeam,
                beamCount,
                _stored.AsSpan(0, cells * size),
                _present.AsSpan(0, cells)
            );
        }

        public void Dispose() { }
    }
}
