using System.Numerics;
using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Rendering;

/// <summary>What a simulated stack holds: counted while it is written.</summary>
public sealed class SceneSummary
{
    private readonly long[] _counts = new long[32];

    /// <summary>Cells in all.</summary>
    public long Cells { get; private set; }

    /// <summary>Cells without an A-scan.</summary>
    public long Absent { get; private set; }

    /// <summary>Lines.</summary>
    public int Lines { get; internal set; }

    /// <summary>Smallest wall on a beam axis, metres; NaN before any.</summary>
    public double SmallestMetres { get; private set; } = double.NaN;

    /// <summary>Largest wall on a beam axis, metres; NaN before any.</summary>
    public double LargestMetres { get; private set; } = double.NaN;

    /// <summary>Cells that carry a label.</summary>
    /// <param name="label">One label.</param>
    public long Count(PlantedFailure label) => _counts[BitOperations.Log2((uint)label)];

    internal void Add(in CellTruth truth)
    {
        Cells++;
        for (uint left = (uint)truth.Planted; left != 0; left &= left - 1)
            _counts[BitOperations.TrailingZeroCount(left)]++;
        if (!truth.IsPresent)
        {
            Absent++;
            return;
        }
        if (!(SmallestMetres <= truth.ThicknessMetres))
            SmallestMetres = truth.ThicknessMetres;
        if (!(LargestMetres >= truth.ThicknessMetres))
            LargestMetres = truth.ThicknessMetres;
    }
}
