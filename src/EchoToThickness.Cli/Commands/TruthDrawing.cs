using EchoToThickness.Pairing;
using EchoToThickness.Reporting.Figures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Cli.Commands;

/// <summary>Draws the true wall that a simulated stack holds. Kept apart, so that a run without figures never loads the plotting library.</summary>
internal static class TruthDrawing
{
    public static void Save(string stackPath, string? lineName, string figurePath)
    {
        using StackLines lines = StackLines.Open(stackPath, null, lineName);
        IAScanSource source = lines.Only(stackPath);
        StackShape shape = source.Info.Shape;
        var walls = new double[shape.Cells];
        ((ITruthSource)source).ReadTruth("thickness", 0, shape.Scans, walls);
        MapFigure.Save(
            new MapImage
            {
                Title = "True wall thickness",
                Subtitle = source.Info.Name,
                Scans = shape.Scans,
                Beams = shape.Beams,
                ValuesMetres = Array.ConvertAll(walls, wall => (float)wall),
                Status = Array.ConvertAll(
                    walls,
                    wall => (byte)(double.IsNaN(wall) ? CellStatus.NotScanned : CellStatus.Measured)
                ),
                ScanPositionsMetres = source.Info.ScanPositionsMetres,
                IndexPositionsMetres = source.Info.IndexPositionsMetres,
            },
            figurePath
        );
    }
}
