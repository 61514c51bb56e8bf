using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using EchoToThickness.Components;
using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Reporting.Export;
using EchoToThickness.Reporting.Figures;
using EchoToThickness.Reporting.Inspection;
using EchoToThickness.Statistics;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.Reporting.Documents;

/// <summary>The map that the statistics were made from, put together again from the grid and checked against the JSON.</summary>
internal sealed class InspectionMap : IDisposable
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.SnakeCaseLower) },
    };

    private readonly GridFile _grid;

    private readonly MapImage _image;

    private InspectionMap(GridFile grid, StitchedMap map, MapImage image, RunJson root)
    {
        _grid = grid;
        _image = image;
        Map = map;
        Limits = [.. root["description.thresholds"].Items.Select(t => t["threshold_metres"].Number)];
    }

    public StitchedMap Map { get; }

    public IReadOnlyList<double> Limits { get; }

    public GridFacts Facts => _grid.Maps[0].Facts;

    public IReadOnlyList<GridMap> Lines => _grid.Maps;

    public Procedure? Procedure { get; private init; }

    /// <summary>Opens the grid and replays the smallest wall.</summary>
    /// <exception cref="ReportException">Another grid, or another result.</exception>
    public static InspectionMap Open(ReportRun run, string gridPath)
    {
        var root = new RunJson(run.Root);
        string sha = StudyReport.Sha256(gridPath);
        if (sha != root["grid_sha256"].Text)
            throw new ReportException(
                $"The grid has SHA-256 {sha}; the statistics are about {root["grid_sha256"].Text}.",
                gridPath,
                "name the grid they were made from with --grid, or run 'ett statistics' again."
            );
        GridFile grid = GridFile.Open(gridPath);
        try
        {
            StatisticsPlan plan = StatisticsPlan.Read(root["plan"].Text, run.JsonPath);
            StitchedMap map = StatisticsRun.Map(grid, plan, Overrules(run, root));
            (double least, _) = WarningEffects.Figures(map, []);
            double stated = root["description.minimum.measured_metres"].Number;
            // Written with all digits: the replay gives the same bits, a float more or less is another map.
            if (Math.Abs(least - stated) > 1e-9)
                throw new ReportException(
                    ReportWords.Of(
                        $"The map replayed has a smallest wall of {least * 1e3:F6} mm, the JSON says {stated * 1e3:F6} mm."
                    ),
                    run.JsonPath,
                    "run 'ett statistics' again with this version, and make the report from that."
                );
            string text = grid.Maps[0].Facts.ProcedureText;
            MapImage image = MapExport.Image(
                map,
                StatisticsRun.Regions(
                    map.ToThicknessMap(),
                    plan,
                    plan.Component.Over(grid.Maps[0].Facts.Component).NominalWallMetres
                ),
                null,
                ExportFacts.Of(gridPath, grid, plan, map, root["program_version"].Text)
            );
            return new InspectionMap(grid, map, image, root)
            {
                Procedure = text.Length > 0 ? ProcedureText.Parse(text, gridPath) : null,
            };
        }
        catch
        {
            grid.Dispose();
            throw;
        }
    }

    public void Dispose() => _grid.Dispose();

    /// <summary>Notes of a line; null where the grid has none.</summary>
    public CellNotes[]? Notes(string line)
    {
        GridMap map = _grid.Maps.First(m => GridLines.NameOf(m) == line);
        if (!map.Layers.Contains(GridLayer.Notes))
            return null;
        var bits = new ushort[map.Scans * map.Beams];
        map.ReadNotes(0, bits);
        return Array.ConvertAll(bits, b => (CellNotes)b);
    }

    /// <summary>One layer's value at a cell; NaN where the grid does not hold it.</summary>
    public double At(CellSource cell, GridLayer layer)
    {
        GridMap map = _grid.Maps.First(m => GridLines.NameOf(m) == cell.Line);
        return map.Layers.Contains(layer) ? map.ReadFloats(layer)[cell.Scan * map.Beams + cell.Beam] : double.NaN;
    }

    public byte[] WallPng(double? limit) =>
        ReportFigures.Png(path => MapFigure.Save(_image with { LimitMetres = limit, Notes = [] }, path));

    public byte[] UncertaintyPng() =>
        ReportFigures.Png(path =>
            MapFigure.SaveUncertainty(
                _image with
                {
                    Regions = null,
                    RegionWords = [],
                    Notes = [],
                    Title = "Standard uncertainty of the wall (k = 1)",
                    ValuesMetres = Array.ConvertAll(Map.UncertaintyMetres, v => (float)v),
                },
                path
            )
        );

    public byte[] HistogramPng(double? limit) =>
        ReportFigures.Png(path =>
            HistogramFigure.Save(
                _image with
                {
                    Subtitle = "cells of the component map",
                    LimitMetres = limit,
                    Notes = [],
                },
                path
            )
        );

    /// <summary>A region with some cells around it; places around the girth go on past its start.</summary>
    public byte[] RegionPng(RunJson region, double? limit)
    {
        const int margin = 6;
        MapRaster raster = Map.Raster;
        int first = Math.Max(0, region["along_first"].Whole - margin);
        int last = Math.Min(raster.AlongCount - 1, region["along_last"].Whole + margin);
        int from = region["around_first"].Whole - margin;
        int to = region["around_last"].Whole + margin;
        if (!raster.Surface.IsClosed)
            (from, to) = (Math.Max(0, from), Math.Min(raster.AroundCount - 1, to));
        else if (to - from >= raster.AroundCount)
            (from, to) = (0, raster.AroundCount - 1);
        int scans = last - first + 1;
        int beams = to - from + 1;
        var walls = new float[scans * beams];
        var status = new byte[walls.Length];
        for (int i = 0; i < scans; i++)
        for (int j = 0; j < beams; j++)
        {
            int around = ((from + j) % raster.AroundCount + raster.AroundCount) % raster.AroundCount;
            int cell = (first + i) * raster.AroundCount + around;
            walls[i * beams + j] = (float)Map.ThicknessMetres[cell];
            status[i * beams + j] = (byte)Map.Status[cell];
        }
        return ReportFigures.Png(path =>
            MapFigure.Save(
                new MapImage
                {
                    Title = "Region " + region["number"].Whole.ToString(CultureInfo.InvariantCulture),
                    Subtitle = "with the cells around it",
                    Scans = scans,
                    Beams = beams,
                    ValuesMetres = walls,
                    Status = status,
                    ScanPositionsMetres = [.. Enumerable.Range(first, scans).Select(raster.AlongMetres)],
                    IndexPositionsMetres = [.. Enumerable.Range(from, beams).Select(raster.AroundMetres)],
                    ScanName = "along",
                    IndexName = raster.Surface.IsClosed ? "around" : "across",
                    LimitMetres = limit,
                },
                path
            )
        );
    }

    private static OverruleFile? Overrules(ReportRun run, RunJson root)
    {
        if (root["overrules"].Items.Count == 0)
            return null;
        try
        {
            return new OverruleFile
            {
                Overrules = root["overrules"].Element.Deserialize<List<Overrule>>(Options) ?? [],
            };
        }
        catch (JsonException error)
        {
            throw new ReportException(
                "The overrules cannot be read.",
                run.JsonPath + ", overrules",
                "run 'ett statistics' again.",
                error
            );
        }
    }
}
