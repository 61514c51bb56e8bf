using System.Runtime.InteropServices;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Native;

namespace EchoToThickness.Simulation;

/// <summary>Writes a scene as a native stack file with truth.</summary>
public static class EchoTrainStack
{
    private const int ScansPerBatch = 8;

    /// <summary>Computes and writes every A-scan; equal scenes give equal files on any number of threads.</summary>
    /// <param name="source">The scene.</param>
    /// <param name="path">File to write; appears complete or not at all.</param>
    /// <param name="lineName">Name of the scan line in the file.</param>
    /// <param name="cancellation">Stops between batches; nothing is left then.</param>
    /// <exception cref="StackFormatException">The place cannot be written.</exception>
    /// <exception cref="OperationCanceledException">The caller cancelled.</exception>
    public static void Write(
        EchoTrainSource source,
        string path,
        string lineName = "line 1",
        CancellationToken cancellation = default
    )
    {
        ArgumentNullException.ThrowIfNull(source);
        StackShape shape = source.Info.Shape;
        using StackWriter writer = StackWriter.Create(path);
        using StackLineWriter line = writer.AddLine(lineName, source.Info);
        int rowSamples = shape.Beams * shape.Samples;
        var counts = new short[Math.Min(ScansPerBatch, shape.Scans) * rowSamples];
        var present = new byte[Math.Min(ScansPerBatch, shape.Scans) * shape.Beams];
        using var renderers = new ThreadLocal<EchoTrainRenderer>(() => new EchoTrainRenderer(source.Scene));
        for (int first = 0; first < shape.Scans; first += ScansPerBatch)
        {
            int scans = Math.Min(ScansPerBatch, shape.Scans - first);
            int start = first;
            Parallel.For(
                0,
                scans * shape.Beams,
                new ParallelOptions { CancellationToken = cancellation },
                cell =>
                {
                    EchoTrainRenderer renderer = renderers.Value!;
                    int scan = start + cell / shape.Beams;
                    int beam = cell % shape.Beams;
                    renderer.Render(scan, beam, counts.AsSpan(cell * shape.Samples, shape.Samples));
                    present[cell] = renderer.IsScanned(scan, beam) ? (byte)1 : (byte)0;
                }
            );
            line.Write(
                MemoryMarshal.AsBytes(counts.AsSpan(0, scans * rowSamples)),
                present.AsSpan(0, scans * shape.Beams)
            );
        }
        var truth = new double[shape.Cells];
        foreach (string layer in source.TruthLayers)
        {
            source.ReadTruth(layer, 0, shape.Scans, truth);
            line.WriteTruth(layer, truth);
        }
        writer.Complete();
    }
}
