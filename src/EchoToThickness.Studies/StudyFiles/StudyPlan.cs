using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Studies.Sources;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>A study ready to run: every point, every method, everything checked.</summary>
public sealed record StudyPlan
{
    /// <summary>The study as its file describes it.</summary>
    public required CompareStudy Study { get; init; }

    /// <summary>SHA-256 of the study with all defaults, lower-case hexadecimal.</summary>
    public required string StudySha256 { get; init; }

    /// <summary>Points, source by source; the last sweep varies fastest.</summary>
    public required IReadOnlyList<StudyPoint> Points { get; init; }

    /// <summary>Methods, in the order of the study.</summary>
    public required IReadOnlyList<StudyMethod> Methods { get; init; }

    /// <summary>Index of the method that the others are tested against.</summary>
    public required int Reference { get; init; }

    /// <summary>A-scans that all methods together measure.</summary>
    public long Cells =>
        Methods.Count * Points.Sum(p => Enumerable.Range(0, p.Blocks).Sum(b => p.InfoOf(b).Shape.Cells));

    /// <summary>Reads a study, with every file it names, and checks that every method can measure every point.</summary>
    /// <param name="path">Study file (TOML). Files it names are looked for beside it.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ProcedureException">Every fault found, with file, line, key and the fix.</exception>
    /// <exception cref="Stacks.StackFormatException">A stack cannot be read or has no truth.</exception>
    public static StudyPlan Read(string path, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(path);
        string text = StudyFolder.ReadText(path, path);
        TomlDocument<CompareStudy> document = TomlBinder.Read<CompareStudy>(text, path);
        CompareStudy study = document.Value;
        var findings = new List<ProcedureFinding>();
        StudyCheck.Run(document, findings);
        if (findings.Count > 0)
            throw new ProcedureException(findings);
        var folder = new StudyFolder(path);
        StudyMethod[] methods = MethodReader.Read(document, folder);
        IReadOnlyList<StudyPoint> points = PointReader.Read(document, folder, cancellation);
        foreach (StudyMethod method in methods)
        foreach (StudyPoint point in points)
            CanMeasure(method, point);
        int reference = study.Report.Reference is { } name ? Array.FindIndex(methods, m => m.Name == name) : 0;
        return new StudyPlan
        {
            Study = study,
            StudySha256 = ContentHash.Of(TomlBinder.Write(study)),
            Points = points,
            Methods = methods,
            Reference = reference,
        };
    }

    private static void CanMeasure(StudyMethod method, StudyPoint point)
    {
        try
        {
            MeasurementPlan.Compile(method.Procedure, point.InfoOf(0)).CreateMeasurer();
        }
        catch (ProcedureException error)
        {
            throw new ProcedureException(
                [
                    .. error.Findings.Select(f =>
                        f with
                        {
                            What = $"The method '{method.Name}' cannot measure {point}: {f.What}",
                            Place = f.Place.Length == 0 ? method.Place : f.Place,
                        }
                    ),
                ],
                error
            );
        }
    }
}
