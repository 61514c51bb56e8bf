using System.Globalization;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Studies.Drawings;
using EchoToThickness.Studies.Running;

namespace EchoToThickness.Studies.Sources;

/// <summary>A drawing and the procedure that lays scans on it.</summary>
/// <param name="Drawing">The drawing.</param>
/// <param name="Procedure">The procedure.</param>
public sealed record StackDrawing(Drawing Drawing, Procedure Procedure)
{
    /// <summary>Text that decides the truth of every scan.</summary>
    public string Identity =>
        $"drawing {ContentHash.Of(TomlBinder.Write(Drawing.File))}\nregistration {ProcedureText.Sha256(Procedure)}";

    /// <summary>Measures a line and finds its place.</summary>
    /// <param name="source">The line.</param>
    /// <param name="file">File, for messages.</param>
    /// <param name="line">Name of the line; empty for the only one.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="StackFormatException">Its place cannot be told.</exception>
    public DrawingRegistration Register(IAScanSource source, string file, string line, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(source);
        Procedure procedure = Procedure with { Output = new OutputSettings { Layers = MethodResult.Layers } };
        MethodResult result = WholeMeasurement.Run(source, procedure, 0, cancellation).Result;
        return Place(Drawing, source.Info, result, file, line, cancellation);
    }

    /// <summary>Lays measured walls on a drawing.</summary>
    /// <exception cref="StackFormatException">Their place cannot be told.</exception>
    internal static DrawingRegistration Place(
        Drawing drawing,
        StackInfo info,
        MethodResult result,
        string file,
        string line,
        CancellationToken cancellation
    )
    {
        // A laminar reflector shows the wall behind it or none: over holes and pits it is the mark of an edge.
        float[] walls =
        [
            .. result.ThicknessMetres.Select(
                (wall, i) => result.Status[i] == (byte)CellStatus.Measured ? wall : float.NaN
            ),
        ];
        DrawingRegistration found = DrawingRegistrar.Find(drawing, ScannedCells.Of(info, file), walls, cancellation);
        if (found.IsReliable)
            return found;
        string tried = string.Create(
            CultureInfo.InvariantCulture,
            $"Best place: {found.ShiftAlongMetres * 1e3:0.0} mm along, {found.ShiftAcrossMetres * 1e3:0.0} mm across, turned by {found.AngleRadians * 180 / Math.PI:0.0} deg, where walls differ by {found.MismatchMetres * 1e3:0.000} mm on average{(double.IsNaN(found.RivalDistance) ? "" : $"; the other place is {found.RivalDistance:0.0} standard errors worse")}."
        );
        throw new StackFormatException(
            $"The scan cannot be laid on the drawing of {drawing.File.Header.Name}. {found.Note} {tried}",
            file,
            line.Length == 0 ? info.Name : line,
            "set [registration] in the drawing's file: mode = \"stated\" with the shifts, or another reach of the search."
        );
    }

    /// <summary>Truth of cells as a study judges them.</summary>
    /// <remarks>
    /// The smallest wall under the beam, the largest within the position tolerance and all between are right where they differ by more than the
    /// two-truths limit; where they differ by less the cell is not judged, as nobody can say which of two close walls it should have read.
    /// </remarks>
    internal static BlockTruth TruthOf(DrawnTruth drawn, StackInfo info, int[]? clusters)
    {
        double limit = new AccuracyRules().TwoTruthsMetres;
        int cells = drawn.ThicknessMetres.Length;
        var thickness = new double[cells];
        var minimum = new double[cells];
        var cluster = new int[cells];
        for (int i = 0; i < cells; i++)
        {
            double apart = drawn.MaximumMetres[i] - drawn.MinimumMetres[i];
            (thickness[i], minimum[i]) =
                !(apart > DrawnTruth.EvenMetres) ? (drawn.ThicknessMetres[i], drawn.MinimumMetres[i])
                : apart > limit ? (drawn.MaximumMetres[i], drawn.MinimumMetres[i])
                : (double.NaN, double.NaN);
            cluster[i] = Math.Max(0, drawn.Feature[i]);
        }
        return new BlockTruth
        {
            ThicknessMetres = thickness,
            MinimumMetres = minimum,
            Cluster = clusters ?? cluster,
            VelocityMetresPerSecond = info.Acquisition.VelocityMetresPerSecond,
            FrequencyHz = info.Acquisition.FrequencyHz,
        };
    }
}
