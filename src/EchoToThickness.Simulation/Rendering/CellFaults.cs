using EchoToThickness.Simulation.Instruments;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Simulation.Waves;

namespace EchoToThickness.Simulation.Rendering;

/// <summary>The faults of a scene that change the echoes of cells in a region: immutable, shared by threads.</summary>
internal sealed class CellFaults
{
    private readonly (FaultEntry Fault, SurfaceRectangle Area)[] _faults;

    public CellFaults(Scene scene, ComponentShape shape) =>
        _faults = [
            .. scene
                .Faults.Where(f => ActsOnEchoes(f.Kind))
                .Select(f =>
                    (
                        f,
                        SurfaceRectangle.Of(
                            shape,
                            f.Along ?? SceneLength.FromMetres(0),
                            f.Around ?? SceneLength.FromMetres(0),
                            f.Length,
                            f.Width
                        )
                    )
                ),
        ];

    /// <summary>Changes a cell as its faults ask.</summary>
    /// <param name="line">Stored line, counted from 0.</param>
    /// <param name="point">True place.</param>
    /// <param name="cell">Changed in place.</param>
    /// <param name="spikeFraction">Peak of a spike planted here, fraction of full scale; 0: none.</param>
    /// <returns>Labels that follow from the fault alone.</returns>
    public PlantedFailure Apply(int line, SurfacePoint point, CellView cell, ref double spikeFraction)
    {
        PlantedFailure labels = PlantedFailure.None;
        foreach ((FaultEntry fault, SurfaceRectangle area) in _faults)
        {
            if ((fault.Lines.Count > 0 && !fault.Lines.Contains(line + 1)) || !area.Contains(point))
                continue;
            double factor = Math.Pow(10, fault.LevelDecibels / 20);
            switch (fault.Kind)
            {
                case FaultKind.WeakBackWall:
                    cell.FirstBackWallFactor *= Math.Pow(10, -Math.Abs(fault.LevelDecibels) / 20);
                    break;
                case FaultKind.ModeConversion:
                    cell.ModeConvertedFraction = Math.Max(cell.ModeConvertedFraction, factor);
                    labels |= PlantedFailure.ModeConverted;
                    break;
                case FaultKind.RingDown:
                    cell.RingDownFraction = Math.Max(cell.RingDownFraction, factor);
                    labels |= PlantedFailure.RingDown;
                    break;
                case FaultKind.PolarityFlip:
                    cell.Inner = InnerMedium.Bonded;
                    break;
                case FaultKind.SaturatedInterface:
                    cell.InterfaceFactor *= factor;
                    break;
                case FaultKind.InterfaceLost:
                    cell.CoupledFraction = 0;
                    cell.AirReflects = false;
                    labels |= PlantedFailure.DryCoupling;
                    break;
                case FaultKind.Spike:
                    spikeFraction = Math.Max(spikeFraction, factor);
                    break;
            }
        }
        return labels;
    }

    private static bool ActsOnEchoes(FaultKind kind) =>
        kind
            is FaultKind.WeakBackWall
                or FaultKind.ModeConversion
                or FaultKind.RingDown
                or FaultKind.PolarityFlip
                or FaultKind.SaturatedInterface
                or FaultKind.InterfaceLost
                or FaultKind.Spike;
}
