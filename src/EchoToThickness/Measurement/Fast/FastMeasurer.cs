using System.Runtime.CompilerServices;
using EchoToThickness.Evidence;
using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement.Fast;

/// <summary>
/// Common part of the fast measurers: cells that a restricted procedure decides plainly are measured on the spot; every other cell
/// (ring-down in a gate, doubled walls, samples that are not numbers, explained cells, ...) goes to the general gate engine, so both give
/// the same grid.
/// </summary>
public abstract class FastMeasurer : LineMeasurer
{
    private readonly GateMeasurer _general;

    private protected FastMeasurer(MeasurementPlan plan, FastPlan fast, KernelPath path)
    {
        Plan = fast;
        Stack = plan.Stack;
        Path = path;
        _general = new GateMeasurer(plan, path);
    }

    /// <summary>Implementation of the kernels.</summary>
    public KernelPath Path { get; }

    private protected FastPlan Plan { get; }

    private protected StackInfo Stack { get; }

    /// <inheritdoc/>
    public override void FindInterfaces(
        in AScanBlock block,
        int firstScan,
        int scanCount,
        int firstBeam,
        int beamCount,
        InterfaceStrip strip
    ) => _general.FindInterfaces(block, firstScan, scanCount, firstBeam, beamCount, strip);

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override void Measure(in AScanBlock block, GridTile tile, InterfaceStrip? strip)
    {
        ArgumentNullException.ThrowIfNull(tile);
        if (strip is not null)
        {
            _general.Measure(block, tile, strip);
            return;
        }
        int index = 0;
        Unsafe.SkipInit(out FastCell cell);
        for (int scan = tile.FirstScan; scan < tile.FirstScan + tile.ScanCount; scan++)
        {
            for (int beam = tile.FirstBeam; beam < tile.FirstBeam + tile.BeamCount; beam++, index++)
            {
                cell.Clear();
                if (
                    block.IsPresent(scan - block.FirstScan, beam - block.FirstBeam)
                    && TryMeasure(block.AScanBytes(scan - block.FirstScan, beam - block.FirstBeam), beam, ref cell)
                )
                    cell.Write(tile, index);
                else
                    tile.Set(index, _general.MeasureCell(block, scan, beam, null, null));
            }
        }
    }

    /// <inheritdoc/>
    public override CellResult MeasureCell(
        in AScanBlock block,
        int scan,
        int beam,
        InterfaceStrip? strip,
        MeasurementTrace? trace
    ) => _general.MeasureCell(block, scan, beam, strip, trace);

    /// <summary>Measures one A-scan.</summary>
    /// <param name="stored">Stored samples.</param>
    /// <param name="beam">Beam.</param>
    /// <param name="cell">Cleared; takes the result.</param>
    /// <returns>False when the general engine has to decide.</returns>
    private protected abstract bool TryMeasure(ReadOnlySpan<byte> stored, int beam, ref FastCell cell);

    /// <summary>First flank position of a crossing between two samples; see docs/gating.md, section 6.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private protected static double Flank(int sample, float below, float above, float level) =>
        sample - 1 + (level - (double)below) / ((double)above - below);
}
