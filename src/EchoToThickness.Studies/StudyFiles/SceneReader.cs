using System.Globalization;
using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Studies.Sources;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>Turns a scene and its sweeps into points.</summary>
internal static class SceneReader
{
    public static void Read(TomlDocument<CompareStudy> document, StudyFolder folder, int index, List<StudyPoint> points)
    {
        CompareStudy study = document.Value;
        SceneSettings settings = study.Scenes[index];
        string entry = string.Create(CultureInfo.InvariantCulture, $"scene[{index + 1}]");
        (string text, string sceneFolder) = folder.Scene(
            settings.File,
            entry + ".file",
            document.PlaceOf(entry + ".file")
        );
        string name = StudyCheck.NameOf(settings);
        IReadOnlyList<TomlOverride> own = MethodReader.Changes(
            settings.Set,
            entry + ".set",
            document.PlaceOf(entry + ".set")
        );
        foreach (
            IReadOnlyList<TomlOverride> swept in PointReader.Combinations(
                document,
                sweep => sweep.Of == name || (sweep.Of is null && study.Plates.Count == 0)
            )
        )
        {
            Scene scene = SceneText.Read(text, settings.File, [.. own, .. swept]).Value;
            points.Add(
                Located(
                    document.PlaceOf(entry),
                    () =>
                        new ScenePoint(
                            settings,
                            scene,
                            sceneFolder,
                            Identity(scene, settings, sceneFolder),
                            name,
                            [.. swept.Select(c => PointReader.ValueOf(typeof(Scene), c))],
                            study.Header.Seed
                        )
                )
            );
        }
    }

    /// <summary>Everything that decides the A-scans, files that the scene names included; not its name.</summary>
    private static string Identity(Scene scene, SceneSettings settings, string folder)
    {
        Scene nameless = scene with { Header = scene.Header with { Name = "", Description = "" } };
        IEnumerable<string> files = scene
            .Wall.Profiles.Select(p => p.File)
            .Append(scene.Array.PulseFile ?? "")
            .Where(f => f.Length > 0)
            .Select(f => Path.Combine(folder, f))
            .Where(File.Exists)
            .Select(f => ContentHash.OfFile(f));
        return $"scene\n{TomlBinder.Write(nameless)}\n{string.Join('\n', files)}\n"
            + $"resample {settings.Resample} {settings.BlockScans} {settings.BlockBeams}";
    }

    private static T Located<T>(string place, Func<T> make)
    {
        try
        {
            return make();
        }
        catch (ProcedureException error) when (error.Findings.Any(f => f.Place.Length == 0))
        {
            throw new ProcedureException(
                [.. error.Findings.Select(f => f.Place.Length == 0 ? f with { Place = place } : f)],
                error
            );
        }
    }
}
