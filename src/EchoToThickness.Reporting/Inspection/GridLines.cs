using EchoToThickness.Components;
using EchoToThickness.Grids;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Reads the lines of a grid file for a component map.</summary>
public static class GridLines
{
    /// <summary>Reads all lines.</summary>
    /// <param name="grid">The file.</param>
    /// <param name="placement">Facts on top of those of the file.</param>
    /// <exception cref="ComponentException">Positions are not known.</exception>
    public static IReadOnlyList<LineCells> Read(GridFile grid, PlacementPlan placement)
    {
        ArgumentNullException.ThrowIfNull(grid);
        ArgumentNullException.ThrowIfNull(placement);
        return [.. grid.Maps.Select(map => Read(map, placement))];
    }

    /// <summary>The component and its surface; a plate or pipe of unknown size is taken as far as it was scanned.</summary>
    /// <param name="facts">Facts.</param>
    /// <param name="lines">The lines.</param>
    public static ComponentSurface Surface(ComponentFacts facts, IReadOnlyList<LineCells> lines)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(lines);
        double Reach(bool along) =>
            lines.Max(line =>
            {
                IReadOnlyList<double> axis =
                    (line.Placement.Direction ?? LineDirection.Along) == LineDirection.Along == along
                        ? line.ScanPositionsMetres
                        : line.IndexPositionsMetres;
                double pitch = axis.Count > 1 ? Math.Abs(axis[^1] - axis[0]) / (axis.Count - 1) : 0;
                return Math.Max(axis[0], axis[^1]) + pitch / 2;
            });
        return ComponentSurface.Of(facts, Reach(true), Reach(false));
    }

    /// <summary>A wall that the grid kept beside the machine's choice.</summary>
    /// <param name="grid">The file.</param>
    public static Func<string, OverruleSource, float[]?> Kept(GridFile grid) =>
        (name, source) =>
        {
            GridLayer layer = source switch
            {
                OverruleSource.InterfaceToWall => GridLayer.ThicknessInterfaceWall,
                OverruleSource.WallToWall => GridLayer.ThicknessWallWall,
                _ => GridLayer.RunnerUpThickness,
            };
            GridMap map = grid.Maps.First(m => NameOf(m) == name);
            return map.Layers.Contains(layer) ? map.ReadFloats(layer) : null;
        };

    private static string NameOf(GridMap map) => map.Name.Length > 0 ? map.Name : "line-01";

    private static LineCells Read(GridMap map, PlacementPlan placement)
    {
        float[] Layer(GridLayer layer) => map.Layers.Contains(layer) ? map.ReadFloats(layer) : [];
        if (!map.Layers.Contains(GridLayer.Thickness))
            throw new ComponentException(
                "The grid has no layer thickness.",
                $"line '{NameOf(map)}'",
                "switch it on in the procedure's [output] and measure again."
            );
        return new LineCells
        {
            Name = NameOf(map),
            Scans = map.Scans,
            Beams = map.Beams,
            ScanPositionsMetres = map.ScanPositionsMetres ?? throw NoPositions(map, "scan"),
            IndexPositionsMetres = map.IndexPositionsMetres ?? throw NoPositions(map, "index"),
            Placement = placement.Over(map.Facts.Placement),
            ThicknessMetres = map.ReadFloats(GridLayer.Thickness),
            Status = map.ReadStatus(),
            UncertaintyMetres = Layer(GridLayer.Uncertainty),
            NoiseMetres = Layer(GridLayer.UncertaintyNoise),
            WrongEcho = Layer(GridLayer.WrongEchoProbability),
            SignalToNoise = Layer(GridLayer.SignalToNoise),
        };
    }

    private static ComponentException NoPositions(GridMap map, string axis) =>
        new(
            $"The {axis} positions are not known.",
            $"line '{NameOf(map)}'",
            "store them in the stack, or give them in the layout map, and measure again."
        );
}
