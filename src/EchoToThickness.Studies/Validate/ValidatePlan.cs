using System.Globalization;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Studies.Running;
using EchoToThickness.Studies.Sources;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Validate;

/// <summary>A validation with every file it names read and checked.</summary>
public sealed record ValidatePlan
{
    /// <summary>The study.</summary>
    public required ValidateStudy Study { get; init; }

    /// <summary>SHA-256 of the study with all defaults.</summary>
    public required string StudySha256 { get; init; }

    /// <summary>The frozen procedure.</summary>
    public required Procedure Procedure { get; init; }

    /// <summary>Its SHA-256, as 'ett procedure check' prints it.</summary>
    public required string ProcedureSha256 { get; init; }

    /// <summary>Whether the study named that hash beforehand.</summary>
    public bool WasFrozen => Study.Procedure.Sha256 is not null;

    /// <summary>Scans in order.</summary>
    public required IReadOnlyList<PlacedScan> Scans { get; init; }

    /// <summary>Names of scans that tuning has seen.</summary>
    public required IReadOnlyList<string> SeenByTuning { get; init; }

    /// <summary>Whether some drawing is still sealed.</summary>
    public bool IsSealed => Scans.Any(s => !s.HasTruth);

    /// <summary>A-scans in all.</summary>
    public long Cells => Scans.Sum(s => s.Lines.Sum(l => l.Info.Shape.Cells));

    /// <summary>Reads a study with every file it names.</summary>
    /// <param name="path">Study file (TOML). Files it names are looked for beside it.</param>
    /// <param name="passphrase">Opens sealed drawings; null leaves them sealed.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ProcedureException">Every fault found, with file, line, key and the fix.</exception>
    /// <exception cref="Stacks.StackFormatException">A stack cannot be read.</exception>
    public static ValidatePlan Read(string path, string? passphrase = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(path);
        TomlDocument<ValidateStudy> document = Document(path);
        var folder = new StudyFolder(path);
        (Procedure procedure, string hash) = ReadProcedure(document, folder);
        IReadOnlyList<PlacedScan> scans = new ScanReader(document, folder, passphrase, cancellation).Read();
        foreach (PlacedScan scan in scans)
            CanMeasure(procedure, scan, document);
        IReadOnlyList<string> seen = TuningCheck.Seen(document, folder, scans);
        return new ValidatePlan
        {
            Study = document.Value,
            StudySha256 = ContentHash.Of(TomlBinder.Write(document.Value)),
            Procedure = procedure with { Output = new OutputSettings { Layers = MethodResult.Layers } },
            ProcedureSha256 = hash,
            Scans = scans,
            SeenByTuning = seen,
        };
    }

    /// <summary>Reads the study file alone, and no file that it names.</summary>
    /// <param name="path">Study file (TOML).</param>
    /// <exception cref="ProcedureException">Every fault found, with file, line, key and the fix.</exception>
    public static ValidateStudy ReadStudy(string path) => Document(path).Value;

    private static TomlDocument<ValidateStudy> Document(string path)
    {
        TomlDocument<ValidateStudy> document = TomlBinder.Read<ValidateStudy>(StudyFolder.ReadText(path, path), path);
        var findings = new List<ProcedureFinding>();
        ValidateCheck.Run(document, findings);
        return findings.Count == 0 ? document : throw new ProcedureException(findings);
    }

    private static (Procedure, string) ReadProcedure(TomlDocument<ValidateStudy> document, StudyFolder folder)
    {
        FrozenProcedure frozen = document.Value.Procedure;
        Procedure procedure = new();
        if (frozen.File is { } file)
            procedure = ProcedureText
                .Read(
                    StudyFolder.ReadText(
                        folder.Find(file, "procedure", "procedure.file", document.PlaceOf("procedure.file")),
                        file
                    ),
                    file
                )
                .Value;
        string hash = ProcedureText.Sha256(procedure);
        if (frozen.Sha256 is { } wanted && !string.Equals(wanted, hash, StringComparison.OrdinalIgnoreCase))
            throw new ProcedureException([
                new ProcedureFinding(
                    "procedure.sha256",
                    $"The procedure has SHA-256 {hash}: it is not the one that was frozen.",
                    "validate the frozen procedure, or freeze this one: its evidence then begins anew."
                )
                {
                    Place = document.PlaceOf("procedure.sha256"),
                },
            ]);
        return (procedure, hash);
    }

    private static void CanMeasure(Procedure procedure, PlacedScan scan, TomlDocument<ValidateStudy> document)
    {
        try
        {
            MeasurementPlan.Compile(procedure, scan.Lines[0].Info).CreateMeasurer();
        }
        catch (ProcedureException error)
        {
            int entry = document.Value.Scans.ToList().IndexOf(scan.Settings) + 1;
            string key = string.Create(CultureInfo.InvariantCulture, $"scan[{entry}]");
            throw new ProcedureException(
                [
                    .. error.Findings.Select(f =>
                        f with
                        {
                            What = $"The procedure cannot measure {scan.Name}: {f.What}",
                            Place = f.Place.Length == 0 ? document.PlaceOf(key) : f.Place,
                        }
                    ),
                ],
                error
            );
        }
    }
}
