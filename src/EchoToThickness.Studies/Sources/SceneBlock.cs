using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;

namespace EchoToThickness.Studies.Sources;

/// <summary>A line of a scene, computed by all processors into memory.</summary>
internal static class SceneBlock
{
    /// <summary>Lines up to this size are computed into memory before they are measured.</summary>
    public const long LargestInMemoryBytes = 256L << 20;

    /// <summary>A line in memory where there is room, else one that is computed as it is read.</summary>
    public static IAScanSource InMemory(SceneModel model, int line, CancellationToken cancellation)
    {
        StackInfo info = model.InfoOf(line);
        if (info.Shape.Cells * info.AScanBytes > LargestInMemoryBytes)
            return new SceneSource(model, line);
        var bytes = new byte[info.Shape.Cells * info.AScanBytes];
        byte[] present = Render(model, line, bytes, new PlantedFailure[info.Shape.Cells], cancellation);
        return new MemoryAScanSource(info, bytes, present);
    }

    /// <summary>Computes every A-scan once for its labels, and keeps it where there is room.</summary>
    public static byte[] Render(
        SceneModel model,
        int line,
        byte[] bytes,
        PlantedFailure[] planted,
        CancellationToken cancellation
    )
    {
        StackInfo info = model.InfoOf(line);
        var present = new byte[info.Shape.Cells];
        Parallel.For(
            0,
            info.Shape.Scans,
            new ParallelOptions { CancellationToken = cancellation },
            () => (Renderer: model.CreateRenderer(), Scratch: new byte[info.AScanBytes]),
            (scan, _, own) =>
            {
                for (int beam = 0; beam < info.Shape.Beams; beam++)
                {
                    int cell = scan * info.Shape.Beams + beam;
                    Span<byte> stored =
                        bytes.Length == 0 ? own.Scratch : bytes.AsSpan(cell * info.AScanBytes, info.AScanBytes);
                    CellTruth truth = own.Renderer.Render(line, scan, beam, stored);
                    present[cell] = truth.IsPresent ? (byte)1 : (byte)0;
                    planted[cell] = truth.Planted;
                }
                return own;
            },
            _ => { }
        );
        return present;
    }
}
