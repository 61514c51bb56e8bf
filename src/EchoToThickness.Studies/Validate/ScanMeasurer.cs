using System.Security.Cryptography;
using EchoToThickness.Stacks;
using EchoToThickness.Studies.Drawings;
using EchoToThickness.Studies.Running;
using EchoToThickness.Studies.Sources;

namespace EchoToThickness.Studies.Validate;

/// <summary>Measures the scans of a validation, or takes what was measured already.</summary>
public sealed class ScanMeasurer
{
    private readonly ValidatePlan _plan;
    private readonly UnitStore _store;
    private readonly StudyOptions _options;
    private long _done;

    /// <summary>Makes a measurer.</summary>
    /// <param name="plan">The study.</param>
    /// <param name="store">Where finished pieces are kept.</param>
    /// <param name="options">Threads, progress, cancellation.</param>
    public ScanMeasurer(ValidatePlan plan, UnitStore store, StudyOptions options)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(options);
        _plan = plan;
        _store = store;
        _options = options;
    }

    /// <summary>Measures every line of every scan, without any truth.</summary>
    /// <returns>Results by scan and line.</returns>
    public IReadOnlyList<IReadOnlyList<MethodResult>> Measure()
    {
        _options.Progress?.Invoke(0, _plan.Cells);
        return [.. _plan.Scans.Select(scan => (IReadOnlyList<MethodResult>)[.. scan.Lines.Select(l => Line(scan, l))])];
    }

    /// <summary>SHA-256 of everything that was measured, in order: what a submission commits to.</summary>
    /// <param name="results">Results by scan and line.</param>
    public static string HashOf(IReadOnlyList<IReadOnlyList<MethodResult>> results)
    {
        ArgumentNullException.ThrowIfNull(results);
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (MethodResult result in results.SelectMany(r => r))
        {
            foreach (float[] layer in new[] { result.ThicknessMetres, result.UncertaintyMetres, result.NoiseMetres })
                hash.AppendData(System.Runtime.InteropServices.MemoryMarshal.AsBytes(layer.AsSpan()));
            hash.AppendData(result.Status);
        }
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    /// <summary>Puts truth beside what was measured.</summary>
    /// <param name="results">Results by scan and line.</param>
    /// <exception cref="StackFormatException">A scan cannot be laid on its drawing.</exception>
    public IReadOnlyList<ScanCells> WithTruth(IReadOnlyList<IReadOnlyList<MethodResult>> results)
    {
        ArgumentNullException.ThrowIfNull(results);
        var all = new List<ScanCells>();
        for (int s = 0; s < _plan.Scans.Count; s++)
        for (int l = 0; l < _plan.Scans[s].Lines.Count; l++)
        {
            _options.Cancellation.ThrowIfCancellationRequested();
            PlacedScan scan = _plan.Scans[s];
            all.Add(
                scan.Drawing is { } drawing
                    ? OnDrawing(scan, drawing, l, results[s][l])
                    : OwnTruth(scan, l, results[s][l])
            );
        }
        return all;
    }

    private MethodResult Line(PlacedScan scan, PlacedLine line)
    {
        _options.Cancellation.ThrowIfCancellationRequested();
        string name = UnitStore.NameOf(
            $"validate\n{scan.Sha256}\n{line.Line}\n{scan.LayoutSha256}",
            _plan.ProcedureSha256
        );
        MethodResult? result = _store.ReadResult(name);
        if (result is null)
        {
            using IAScanSource source = line.Open();
            result = WholeMeasurement.Run(source, _plan.Procedure, _options.Threads, _options.Cancellation).Result;
            _store.Write(name, result, double.NaN);
        }
        _done += line.Info.Shape.Cells;
        _options.Progress?.Invoke(_done, _plan.Cells);
        return result;
    }

    private ScanCells OnDrawing(PlacedScan scan, Drawing drawing, int line, MethodResult result)
    {
        StackInfo info = scan.Lines[line].Info;
        ScannedCells cells = ScannedCells.Of(info, scan.Name);
        DrawingRegistration place = StackDrawing.Place(
            drawing,
            info,
            result,
            scan.Name,
            scan.Lines[line].Line,
            _options.Cancellation
        );
        DrawnTruth drawn = DrawnTruth.Of(drawing, cells, place);
        var truth = new double[drawn.ThicknessMetres.Length];
        for (int i = 0; i < truth.Length; i++)
            truth[i] = drawn.IsEven[i] ? drawn.ThicknessMetres[i] : double.NaN;
        return new ScanCells
        {
            Scan = scan,
            Line = scan.Lines[line].Line,
            Scans = info.Shape.Scans,
            Beams = info.Shape.Beams,
            Result = result,
            TruthMetres = truth,
            TruthUncertaintyMetres = drawn.StandardUncertaintyMetres,
            Group = drawn.Feature,
            GroupNames = [.. drawing.Features.Select(f => f.Name)],
            Drawn = drawn,
            Cells = cells,
            Registration = place,
        };
    }

    private static ScanCells OwnTruth(PlacedScan scan, int line, MethodResult result)
    {
        using IAScanSource source = scan.Lines[line].OpenTruth();
        StackShape shape = source.Info.Shape;
        BlockTruth known = TruthReader.Read(source, Clusters.Of(shape, scan.Settings.Resample, 10, 10));
        var truth = (double[])known.ThicknessMetres.Clone();
        // Where the wall varies under the aperture no single value is right.
        for (int i = 0; i < truth.Length && known.MinimumMetres.Length > 0; i++)
            if (Math.Abs(truth[i] - known.MinimumMetres[i]) > DrawnTruth.EvenMetres)
                truth[i] = double.NaN;
        return new ScanCells
        {
            Scan = scan,
            Line = scan.Lines[line].Line,
            Scans = shape.Scans,
            Beams = shape.Beams,
            Result = result,
            TruthMetres = truth,
            TruthUncertaintyMetres = new double[truth.Length],
            Group = known.Cluster,
            GroupNames =
            [
                .. Enumerable
                    .Range(0, known.Cluster.DefaultIfEmpty(0).Max() + 1)
                    .Select(i => $"{scan.Settings.Resample.ToString().ToLowerInvariant()} {i + 1}"),
            ],
        };
    }
}
