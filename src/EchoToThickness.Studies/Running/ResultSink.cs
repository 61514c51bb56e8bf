using EchoToThickness.Grids;

namespace EchoToThickness.Studies.Running;

/// <summary>Keeps the layers that a score needs in memory.</summary>
internal sealed class ResultSink : IGridSink
{
    private int _beams;

    public MethodResult Result { get; private set; } = new([], [], [], [], []);

    public void Begin(GridHeader header)
    {
        _beams = header.Stack.Shape.Beams;
        long cells = header.Stack.Shape.Cells;
        Result = new MethodResult(
            new float[cells],
            new float[cells],
            new float[cells],
            new float[cells],
            new byte[cells]
        );
    }

    public void Write(GridTile tile)
    {
        for (int row = 0; row < tile.ScanCount; row++)
        {
            int from = row * tile.BeamCount;
            int to = (tile.FirstScan + row) * _beams + tile.FirstBeam;
            Copy(tile[GridLayer.Thickness], Result.ThicknessMetres);
            Copy(tile[GridLayer.Uncertainty], Result.UncertaintyMetres);
            Copy(tile[GridLayer.UncertaintyNoise], Result.NoiseMetres);
            Copy(tile[GridLayer.WrongEchoProbability], Result.WrongProbability);
            Copy(tile.Status, Result.Status);

            void Copy<T>(T[] source, T[] destination) =>
                source.AsSpan(from, tile.BeamCount).CopyTo(destination.AsSpan(to, tile.BeamCount));
        }
    }

    public void Complete(GridSummary summary) { }
}
