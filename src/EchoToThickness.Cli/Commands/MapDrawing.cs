using EchoToThickness.Grids;
using EchoToThickness.Reporting.Figures;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.Cli.Commands;

/// <summary>Draws what a grid file holds. Kept apart, so that a run without figures never loads the plotting library.</summary>
internal static class MapDrawing
{
    public static void Save(string gridPath, string? line, string figurePath, double? limitMetres) =>
        Draw(
            gridPath,
            line,
            GridLayer.Thickness,
            image => MapFigure.Save(image with { LimitMetres = limitMetres }, figurePath)
        );

    public static void SaveUncertainty(string gridPath, string? line, string figurePath) =>
        Draw(gridPath, line, GridLayer.Uncertainty, image => MapFigure.SaveUncertainty(image, figurePath));

    public static void SaveHistogram(string gridPath, string? line, string figurePath, double? limitMetres) =>
        Draw(
            gridPath,
            line,
            GridLayer.Thickness,
            image => HistogramFigure.Save(image with { LimitMetres = limitMetres }, figurePath)
        );

    private static void Draw(string gridPath, string? line, GridLayer layer, Action<MapImage> draw)
    {
        using GridFile grid = GridFile.Open(gridPath);
        GridMap map = GridMaps.Choose(grid, line);
        draw(
            new MapImage
            {
                Title = layer == GridLayer.Uncertainty ? "Standard uncertainty of the wall (k = 1)" : "Wall thickness",
                Subtitle = map.Facts.StackName,
                Scans = map.Scans,
                Beams = map.Beams,
                ValuesMetres = map.ReadFloats(layer),
                Status = Array.ConvertAll(map.ReadStatus(), status => (byte)status),
                ScanPositionsMetres = map.ScanPositionsMetres,
                IndexPositionsMetres = map.IndexPositionsMetres,
            }
        );
    }
}
