using EchoToThickness.Components;
using EchoToThickness.Grids;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Reads the lines of a grid file for a component map.</summary>
public static class GridLines
{
    /// <summary>Reads the lines that the plan uses.</summary>
    /// <param name="grid">The file.</param>
    /// <param name="plan">Facts on top of those of the file.</param>
    /// <exception cref="ComponentException">Positions are not known, or the plan names a line that is not there.</exception>
    public static IReadOnlyList<LineCells> Read(GridFile grid, StatisticsPlan plan)
    {
        ArgumentNullException.ThrowIfNull(grid);
        ArgumentNullException.ThrowIfNull(plan);
        for (int k = 0; k < plan.Lines.Count; k++)
        {
            string name = plan.Lines[k].Name;
            if (grid.Maps.All(map => NameOf(map) != name))
                throw new ComponentException(
                    $"The grid holds no line '{name}'.",
                    $"plan, line[{k + 1}].name",
                    "name one of " + string.Join(", ", grid.Maps.Take(20).Select(map => $"'{NameOf(map)}'")) + "."
                );
            if (plan.Lines.Take(k).Any(line => line.Name == name))
                throw new ComponentException(
                    $"The line '{name}' has two entries.",
                    $"plan, line[{k + 1}].name",
                    "write all its facts in one [[line]]."
                );
        }
        List<LineCells> lines = [];
        foreach (GridMap map in grid.Maps)
        {
            LinePlan own = plan.Lines.FirstOrDefault(line => line.Name == NameOf(map)) ?? new LinePlan();
            if (own.Use)
                lines.Add(Read(map, plan.Placement, own));
        }
        return lines.Count > 0
            ? lines
            : throw new ComponentException(
                "The plan leaves out every line of the grid.",
                "plan, [[line]]",
                "let at least one line take part."
            );
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

    internal static string NameOf(GridMap map) => map.Name.Length > 0 ? map.Name : "line-01";

    private static LineCells Read(GridMap map, PlacementPlan placement, LinePlan own)
    {
        float[] Layer(GridLayer layer) => map.Layers.Contains(layer) ? map.ReadFloats(layer) : [];
        if (!map.Layers.Contains(GridLayer.Thickness))
            throw new ComponentException(
                "The grid has no layer thickness.",
                $"line '{NameOf(map)}'",
                "switch it on in the procedure's [output] and measure again."
            );
        float[] second = Layer(GridLayer.RunnerUpThickness);
        float[] margin = Layer(GridLayer.Margin);
        bool two = second.Length > 0 && margin.Length > 0;
        return new LineCells
        {
            Name = NameOf(map),
            Scans = map.Scans,
            Beams = map.Beams,
            ScanPositionsMetres = own.Positions(map.ScanPositionsMetres ?? throw NoPositions(map, "scan")),
            IndexPositionsMetres = map.IndexPositionsMetres ?? throw NoPositions(map, "index"),
            Placement = own.Over(placement.Over(map.Facts.Placement)),
            ThicknessMetres = map.ReadFloats(GridLayer.Thickness),
            Status = map.ReadStatus(),
            UncertaintyMetres = Layer(GridLayer.Uncertainty),
            NoiseMetres = Layer(GridLayer.UncertaintyNoise),
            WrongEcho = Layer(GridLayer.WrongEchoProbability),
            SignalToNoise = Layer(GridLayer.SignalToNoise),
            SecondWallMetres = two ? second : [],
            SecondShare = two ? Array.ConvertAll(margin, Share) : [],
            ReflectorDepthMetres = Layer(GridLayer.ReflectorDepth),
        };
    }

    /// <summary>Share of the runner-up: half at a tie (margin 0), none without a rival (margin 1).</summary>
    private static float Share(float margin) => float.IsFinite(margin) ? Math.Clamp((1 - margin) / 2, 0, 0.5f) : 0;

    private static ComponentException NoPositions(GridMap map, string axis) =>
        new(
            $"The {axis} positions are not known.",
            $"line '{NameOf(map)}'",
            "store them in the stack, or give them in the layout map, and measure again."
        );
}
