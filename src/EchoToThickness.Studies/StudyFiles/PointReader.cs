using System.Globalization;
using EchoToThickness.Procedures;
using EchoToThickness.Studies.Drawings;
using EchoToThickness.Studies.Sources;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>Turns plates, scenes, stacks and sweeps into points.</summary>
internal static class PointReader
{
    public static IReadOnlyList<StudyPoint> Read(
        TomlDocument<CompareStudy> document,
        StudyFolder folder,
        CancellationToken cancellation,
        bool needsTruth = true
    )
    {
        var findings = new List<ProcedureFinding>();
        var points = new List<StudyPoint>();
        CompareStudy study = document.Value;
        foreach (PlateSettings plate in study.Plates)
            Plates(document, plate, points, findings);
        if (findings.Count > 0)
            throw new ProcedureException(findings);
        for (int i = 0; i < study.Scenes.Count; i++)
            SceneReader.Read(document, folder, i, points);
        for (int i = 0; i < study.Stacks.Count; i++)
            Stacks(document, folder, i, points, cancellation, needsTruth);
        return points;
    }

    private static void Plates(
        TomlDocument<CompareStudy> document,
        PlateSettings plate,
        List<StudyPoint> points,
        List<ProcedureFinding> findings
    )
    {
        CompareStudy study = document.Value;
        int number = study.Plates.ToList().IndexOf(plate) + 1;
        string text = TomlBinder.Write(plate);
        foreach (
            IReadOnlyList<TomlOverride> changes in Combinations(
                document,
                sweep => sweep.Of is null || sweep.Of == plate.Name
            )
        )
        {
            PlateSettings settings;
            try
            {
                settings = TomlBinder.Read<PlateSettings>(text, document.FileName, changes).Value;
            }
            catch (ProcedureException error)
            {
                AddNew(findings, error.Findings);
                continue;
            }
            AddNew(
                findings,
                StudyCheck
                    .Plate(settings)
                    .Select(fault =>
                    {
                        TomlOverride? swept = changes.FirstOrDefault(c => c.Key == fault.Key);
                        string key = string.Create(CultureInfo.InvariantCulture, $"plate[{number}].{fault.Key}");
                        return new ProcedureFinding(key, fault.What, fault.Remedy)
                        {
                            Place = swept?.Place ?? document.PlaceOf(key),
                        };
                    })
            );
            points.Add(
                new PlatePoint(
                    settings,
                    [.. changes.Select(c => ValueOf(typeof(PlateSettings), c))],
                    study.Header.Seed,
                    study.Header.Repeats
                )
            );
        }
    }

    private static void Stacks(
        TomlDocument<CompareStudy> document,
        StudyFolder folder,
        int index,
        List<StudyPoint> points,
        CancellationToken cancellation,
        bool needsTruth
    )
    {
        StackSettings stack = document.Value.Stacks[index];
        string entry = string.Create(CultureInfo.InvariantCulture, $"stack[{index + 1}]");
        string? layout = stack.Layout is null
            ? null
            : folder.Find(stack.Layout, "layout map", entry + ".layout", document.PlaceOf(entry + ".layout"));
        StackDrawing? drawing = DrawingOf(document, folder, stack, entry);
        foreach (string file in stack.Files)
            points.Add(
                StackPoint.Open(
                    stack,
                    folder.Find(file, "stack", entry + ".files", document.PlaceOf(entry + ".files"), mayBeFolder: true),
                    Path.GetFileNameWithoutExtension(file),
                    layout,
                    drawing,
                    cancellation,
                    needsTruth
                )
            );
    }

    /// <summary>The drawing that an entry of stacks names, with the procedure that lays scans on it; null when it names none.</summary>
    private static StackDrawing? DrawingOf(
        TomlDocument<CompareStudy> document,
        StudyFolder folder,
        StackSettings stack,
        string entry
    )
    {
        if (stack.Drawing is not { } name)
            return null;
        string path = folder.Find(name, "drawing", entry + ".drawing", document.PlaceOf(entry + ".drawing"));
        Procedure procedure = new();
        if (stack.RegistrationProcedure is { } file)
            procedure = ProcedureText
                .Read(
                    StudyFolder.ReadText(
                        folder.Find(
                            file,
                            "procedure",
                            entry + ".registration_procedure",
                            document.PlaceOf(entry + ".registration_procedure")
                        ),
                        file
                    ),
                    file
                )
                .Value;
        return new StackDrawing(new Drawing(DrawingFile.Parse(StudyFolder.ReadText(path, name), name)), procedure);
    }

    /// <summary>All combinations of the sweeps that apply; the last varies fastest.</summary>
    public static IEnumerable<IReadOnlyList<TomlOverride>> Combinations(
        TomlDocument<CompareStudy> document,
        Func<SweepSettings, bool> applies
    )
    {
        IEnumerable<IReadOnlyList<TomlOverride>> all =
        [
            [],
        ];
        for (int i = 0; i < document.Value.Sweeps.Count; i++)
        {
            SweepSettings sweep = document.Value.Sweeps[i];
            if (!applies(sweep))
                continue;
            string place = document.PlaceOf(string.Create(CultureInfo.InvariantCulture, $"sweep[{i + 1}].values"));
            all = all.SelectMany(left =>
                sweep.Values.Select(value =>
                    (IReadOnlyList<TomlOverride>)[.. left, new TomlOverride(sweep.Key, value, place)]
                )
            );
        }
        return all;
    }

    /// <summary>The value of a swept key as a number, where it is one.</summary>
    public static SweepValue ValueOf(Type type, TomlOverride change)
    {
        KeyDescription? key = null;
        foreach (string part in change.Key.Split('.'))
        {
            string name = part.Split('[')[0];
            key = KeyDescription.Of(type).First(k => k.Key == name);
            type = key.ValueType;
        }
        double number =
            key!.Attribute.Dimension is { } dimension ? UnitText.Parse(change.Value, dimension)
            : double.TryParse(change.Value, NumberStyles.Float, CultureInfo.InvariantCulture, out double plain) ? plain
            : double.NaN;
        return new SweepValue(change.Key, change.Value, number);
    }

    private static void AddNew(List<ProcedureFinding> findings, IEnumerable<ProcedureFinding> more)
    {
        foreach (ProcedureFinding finding in more)
            if (!findings.Contains(finding))
                findings.Add(finding);
    }
}
