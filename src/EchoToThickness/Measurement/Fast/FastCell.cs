using System.Runtime.CompilerServices;
using EchoToThickness.Grids;
using EchoToThickness.Pairing;

namespace EchoToThickness.Measurement.Fast;

/// <summary>What a fast measurer found in one A-scan, and what follows from it. Times in seconds from the pulse; NaN where not found.</summary>
internal struct FastCell
{
    /// <summary>Reported interface time (with offset).</summary>
    public double InterfaceSeconds;

    /// <summary>Echo of the first gate.</summary>
    public double FirstSeconds;

    /// <summary>Echo of the second gate.</summary>
    public double SecondSeconds;

    /// <summary>Amplitude of the first echo, fraction of full scale.</summary>
    public float FirstAmplitude;

    /// <summary>Amplitude of the second echo, fraction of full scale.</summary>
    public float SecondAmplitude;

    /// <summary>Wall from interface to back wall 1, metres.</summary>
    public double InterfaceWallMetres;

    /// <summary>Wall from back wall 1 to back wall 2, metres.</summary>
    public double WallWallMetres;

    /// <summary>The wall, metres.</summary>
    public double ThicknessMetres;

    /// <summary>What became of the cell.</summary>
    public CellStatus Status;

    /// <summary>Starts: nothing found. Field by field, as a copied structure would be read back wider than it was written.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Clear()
    {
        InterfaceSeconds = double.NaN;
        FirstSeconds = double.NaN;
        SecondSeconds = double.NaN;
        FirstAmplitude = float.NaN;
        SecondAmplitude = float.NaN;
        InterfaceWallMetres = double.NaN;
        WallWallMetres = double.NaN;
        ThicknessMetres = double.NaN;
        Status = CellStatus.NoInterfaceEcho;
    }

    /// <summary>Pairs the echoes as docs/gating.md, section 8, says for plain cells.</summary>
    /// <param name="plan">The plan.</param>
    /// <returns>False when one of that section's checks applies: the general engine has to decide.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public bool Pair(FastPlan plan)
    {
        if (double.IsNaN(InterfaceSeconds))
            return true;
        bool first = !double.IsNaN(FirstSeconds);
        bool second = !double.IsNaN(SecondSeconds);
        if (first)
            InterfaceWallMetres = plan.Velocity.InterfaceToWallMetres(FirstSeconds - InterfaceSeconds);
        if (first && second)
            WallWallMetres = plan.Velocity.WallToWallMetres(SecondSeconds - FirstSeconds);
        if ((!first && (!plan.FromInterface || !plan.ToSecond)) || (!second && plan.ToSecond))
        {
            Status = CellStatus.NoBackWallEcho;
            return true;
        }
        if (first && second && !Agrees(plan))
            return false;
        double wall =
            !plan.ToSecond ? InterfaceWallMetres
            : plan.FromInterface ? plan.Velocity.InterfaceToWallMetres(SecondSeconds - InterfaceSeconds) / 2
            : WallWallMetres;
        bool inside = wall >= plan.MinimumMetres && wall <= plan.MaximumMetres;
        Status = inside ? CellStatus.Measured : CellStatus.OutsideRange;
        if (inside)
            ThicknessMetres = wall;
        return true;
    }

    /// <summary>Writes the layers that the tile holds.</summary>
    /// <param name="tile">The tile.</param>
    /// <param name="index">Cell in the tile.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public readonly void Write(GridTile tile, int index)
    {
        Put(tile[GridLayer.Thickness], index, (float)ThicknessMetres);
        Put(tile[GridLayer.InterfaceTime], index, (float)InterfaceSeconds);
        Put(tile[GridLayer.FirstEchoTime], index, (float)FirstSeconds);
        Put(tile[GridLayer.SecondEchoTime], index, (float)SecondSeconds);
        Put(tile[GridLayer.FirstEchoAmplitude], index, FirstAmplitude);
        Put(tile[GridLayer.SecondEchoAmplitude], index, SecondAmplitude);
        Put(tile[GridLayer.ThicknessInterfaceWall], index, (float)InterfaceWallMetres);
        Put(tile[GridLayer.ThicknessWallWall], index, (float)WallWallMetres);
        tile.Status[index] = (byte)Status;
    }

    // Equal spacings with a growing echo, a doubled wall or a converted mode: not for this path.
    private readonly bool Agrees(FastPlan plan)
    {
        double smaller = Math.Min(InterfaceWallMetres, WallWallMetres);
        double larger = Math.Max(InterfaceWallMetres, WallWallMetres);
        if (larger - smaller <= plan.AgreementMetres)
            return SecondAmplitude <= 1.414f * FirstAmplitude;
        return Math.Abs(larger - 2 * smaller) > plan.AgreementMetres
            && Math.Abs(larger - plan.ConvertedRatio * smaller) > plan.AgreementMetres;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Put(float[] layer, int index, float value)
    {
        if ((uint)index < (uint)layer.Length)
            layer[index] = value;
    }
}
