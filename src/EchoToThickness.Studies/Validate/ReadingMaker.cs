using EchoToThickness.Pairing;
using EchoToThickness.Studies.Drawings;

namespace EchoToThickness.Studies.Validate;

/// <summary>Turns measured lines into what a reviewer counts: readings of features, indications, false calls.</summary>
public static class ReadingMaker
{
    /// <summary>Readings of every feature with judged cells.</summary>
    /// <param name="lines">Measured lines with truth.</param>
    public static IReadOnlyList<Reading> Readings(IReadOnlyList<ScanCells> lines)
    {
        ArgumentNullException.ThrowIfNull(lines);
        var readings = new List<Reading>();
        foreach (ScanCells line in lines)
        {
            var rules = new AccuracyRules();
            var cells = Enumerable
                .Range(0, line.TruthMetres.Length)
                .Where(i =>
                    line.Group[i] >= 0
                    && !double.IsNaN(line.TruthMetres[i])
                    && line.Result.Status[i] != (byte)CellStatus.NotScanned
                )
                .GroupBy(i => line.Group[i])
                .OrderBy(g => g.Key);
            foreach (IGrouping<int, int> group in cells)
            {
                int[] measured = [.. group.Where(i => float.IsFinite(line.Result.ThicknessMetres[i]))];
                readings.Add(
                    new Reading
                    {
                        Scan = line.Scan,
                        Line = line.Line,
                        Feature = FeatureName(line, group.Key),
                        Kind = line.Scan.Drawing is { } drawing
                            ? drawing.Features[group.Key].Kind.ToString().ToLowerInvariant()
                            : "cells",
                        TruthMetres = group.Average(i => line.TruthMetres[i]),
                        TruthUncertaintyMetres = group.Average(i => line.TruthUncertaintyMetres[i]),
                        Cells = group.Count(),
                        Missing = group.Count() - measured.Length,
                        Gross = measured.Count(i =>
                            rules.Judge(line.Result.ThicknessMetres[i], line.TruthMetres[i]).Gross
                        ),
                        ErrorsMetres = [.. measured.Select(i => line.Result.ThicknessMetres[i] - line.TruthMetres[i])],
                        UncertaintiesMetres = [.. measured.Select(i => (double)line.Result.UncertaintyMetres[i])],
                    }
                );
            }
        }
        return readings;
    }

    /// <summary>Indications of every hole and pit under a scan, and false calls on blank metal.</summary>
    /// <param name="lines">Measured lines with truth.</param>
    /// <param name="settings">When a feature counts as found.</param>
    public static (IReadOnlyList<Indication> Indications, IReadOnlyList<BlankMetal> Blank) Detections(
        IReadOnlyList<ScanCells> lines,
        DetectionSettings settings
    )
    {
        ArgumentNullException.ThrowIfNull(lines);
        ArgumentNullException.ThrowIfNull(settings);
        var indications = new List<Indication>();
        var blank = new List<BlankMetal>();
        foreach (ScanCells line in lines.Where(l => l.Drawn is not null))
            new LineDetections(line, settings).AddTo(indications, blank);
        return (indications, blank);
    }

    internal static string FeatureName(ScanCells line, int group) =>
        line.Scan.Drawing is not null
            ? $"{line.Scan.Block} / {line.GroupNames[group]}"
            // Clusters of different stacks are different metal; the entry names the metal, repeats of it share names.
            : $"{line.Scan.Block}{(line.Line.Length > 0 ? " " + line.Line : "")} / {line.GroupNames[group]}";

    private sealed class LineDetections
    {
        private readonly ScanCells _line;
        private readonly DetectionSettings _settings;
        private readonly Drawing _drawing;
        private readonly Drawing _ground;
        private readonly (double Along, double Across)[] _places;
        private readonly double[] _loss;
        private readonly int[] _region;
        private readonly List<List<int>> _regions = [];
        private readonly double _cellArea;

        public LineDetections(ScanCells line, DetectionSettings settings)
        {
            _line = line;
            _settings = settings;
            _drawing = line.Scan.Drawing!;
            _ground = new Drawing(_drawing.File with { Holes = [], Pits = [] });
            ScannedCells cells = line.Cells!;
            int count = cells.Count;
            _places = new (double, double)[count];
            _loss = new double[count];
            var indicates = new bool[count];
            for (int i = 0; i < count; i++)
            {
                _places[i] = line.Registration!.Place(
                    cells.AlongMetres[i / line.Beams],
                    cells.AcrossMetres[i % line.Beams]
                );
                // Beside an edge of a step the thinner step is no indication.
                double around = _ground
                    .WallsWithin(_places[i].Along, _places[i].Across, _drawing.File.Header.FootprintMetres / 2)
                    .Smallest;
                bool measured = line.Result.Status[i] == (byte)CellStatus.Measured;
                _loss[i] = measured ? around - line.Result.ThicknessMetres[i] : double.NaN;
                indicates[i] =
                    _loss[i] >= settings.LeastDepthMetres
                    || settings.LaminarIndicates && line.Result.Status[i] == (byte)CellStatus.LaminarReflector;
            }
            double step(double[] positions) =>
                positions.Length > 1 ? (positions.Max() - positions.Min()) / (positions.Length - 1) : 1e-3;
            _cellArea = step(cells.AlongMetres) * step(cells.AcrossMetres);
            _region = new int[count];
            for (int i = 0; i < count; i++)
                if (indicates[i] && _region[i] == 0)
                    Grow(i, indicates);
        }

        public void AddTo(List<Indication> indications, List<BlankMetal> blank)
        {
            var claimed = new HashSet<int>();
            for (int f = 0; f < _drawing.Features.Count; f++)
            {
                DrawingFeature feature = _drawing.Features[f];
                if (feature.Kind is not (DrawingFeatureKind.Hole or DrawingFeatureKind.Pit))
                    continue;
                int[] over =
                [
                    .. Enumerable.Range(0, _places.Length).Where(i => Gap(feature, i) <= _settings.ReachMetres),
                ];
                // A feature counts as scanned when the scan reaches its centre.
                if (!over.Any(i => Distance(feature, i) <= Math.Sqrt(_cellArea) * 1.01))
                    continue;
                int best = over.Select(i => _region[i])
                    .Where(r => r > 0 && _regions[r - 1].Count >= _settings.LeastCells)
                    .GroupBy(r => r)
                    .OrderByDescending(g => g.Count())
                    .Select(g => g.Key)
                    .FirstOrDefault();
                claimed.UnionWith(over.Select(i => _region[i]).Where(r => r > 0));
                indications.Add(Of(feature, over, best == 0 ? [] : _regions[best - 1]));
            }
            DrawingFeature[] features =
            [
                .. _drawing.Features.Where(f => f.Kind is DrawingFeatureKind.Hole or DrawingFeatureKind.Pit),
            ];
            bool IsBlank(int i) =>
                _line.Drawn!.Feature[i] >= 0
                && features.All(f => Gap(f, i) > _settings.ClearanceMetres)
                && _line.Drawn.IsEven[i];
            int blankCells = Enumerable.Range(0, _places.Length).Count(IsBlank);
            if (blankCells == 0)
                return;
            int calls = _regions
                .Select((cells, r) => (cells, r: r + 1))
                .Count(x => x.cells.Count >= _settings.LeastCells && !claimed.Contains(x.r) && x.cells.Any(IsBlank));
            blank.Add(new BlankMetal(_line.Scan, blankCells * _cellArea, calls));
        }

        private Indication Of(DrawingFeature feature, int[] over, List<int> cells)
        {
            int[] measured = [.. cells.Where(i => !double.IsNaN(_loss[i]))];
            double weight = measured.Sum(i => _loss[i]);
            double[] losses = [.. over.Select(i => _loss[i]).Where(double.IsFinite)];
            double around = _ground.WallMetres(feature.AlongMetres, feature.AcrossMetres);
            return new Indication
            {
                Scan = _line.Scan,
                Feature = $"{_line.Scan.Block} / {feature.Name}",
                Drawn = feature,
                AroundMetres = around,
                Found = cells.Count > 0,
                SignalMetres = losses.Length > 0 ? losses.Max() : 0,
                WallMetres = measured.Length > 0 ? measured.Min(i => _line.Result.ThicknessMetres[i]) : double.NaN,
                AreaSquareMetres = cells.Count > 0 ? cells.Count * _cellArea : double.NaN,
                OffAlongMetres =
                    weight > 0
                        ? measured.Sum(i => _loss[i] * _places[i].Along) / weight - feature.AlongMetres
                        : double.NaN,
                OffAcrossMetres =
                    weight > 0
                        ? measured.Sum(i => _loss[i] * _places[i].Across) / weight - feature.AcrossMetres
                        : double.NaN,
            };
        }

        private double Distance(DrawingFeature feature, int i) =>
            Math.Sqrt(
                Math.Pow(_places[i].Along - feature.AlongMetres, 2)
                    + Math.Pow(_places[i].Across - feature.AcrossMetres, 2)
            );

        /// <summary>Distance from the mouth, taken as a circle of its longer side.</summary>
        private double Gap(DrawingFeature feature, int i) =>
            Math.Max(0, Distance(feature, i) - Math.Max(feature.LengthMetres, feature.WidthMetres) / 2);

        /// <summary>Joins cells that touch at sides or corners.</summary>
        private void Grow(int start, bool[] indicates)
        {
            int label = _regions.Count + 1;
            var cells = new List<int> { start };
            _region[start] = label;
            for (int next = 0; next < cells.Count; next++)
            {
                int scan = cells[next] / _line.Beams;
                int beam = cells[next] % _line.Beams;
                for (int s = Math.Max(0, scan - 1); s <= Math.Min(_line.Scans - 1, scan + 1); s++)
                for (int b = Math.Max(0, beam - 1); b <= Math.Min(_line.Beams - 1, beam + 1); b++)
                {
                    int i = s * _line.Beams + b;
                    if (!indicates[i] || _region[i] != 0)
                        continue;
                    _region[i] = label;
                    cells.Add(i);
                }
            }
            _regions.Add(cells);
        }
    }
}
