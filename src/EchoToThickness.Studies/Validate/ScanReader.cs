using System.Globalization;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Foreign;
using EchoToThickness.Studies.Drawings;
using EchoToThickness.Studies.Sources;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Validate;

/// <summary>Turns the entries of a validation into scans.</summary>
internal sealed class ScanReader(
    TomlDocument<ValidateStudy> document,
    StudyFolder folder,
    string? passphrase,
    CancellationToken cancellation
)
{
    public IReadOnlyList<PlacedScan> Read()
    {
        var scans = new List<PlacedScan>();
        for (int i = 0; i < document.Value.Scans.Count; i++)
        {
            ScanSettings settings = document.Value.Scans[i];
            string entry = ValidateCheck.Entry("scan", i);
            (Drawing? drawing, SealedDrawing? sealed_) = DrawingOf(settings, entry);
            var common = new PlacedScan
            {
                Name = settings.Name,
                Settings = settings,
                Block = drawing?.File.Header.Name ?? sealed_?.Block ?? settings.Name,
                Levels =
                [
                    .. document.Value.Factors.Select(f =>
                        settings.Conditions.Select(ValidateCheck.Condition).First(c => c?.Factor == f.Name)!.Value.Level
                    ),
                ],
                Sha256 = "",
                Lines = [],
                Drawing = drawing,
                Sealed = sealed_,
            };
            scans.AddRange(settings.Scene is null ? Stored(common, entry) : Simulated(common, entry));
        }
        return scans;
    }

    private (Drawing?, SealedDrawing?) DrawingOf(ScanSettings settings, string entry)
    {
        if (settings.Drawing is not { } name)
            return (null, null);
        string key = entry + ".drawing";
        string text = StudyFolder.ReadText(folder.Find(name, "drawing", key, document.PlaceOf(key)), name);
        SealedDrawing? found = SealedDrawing.Read(text, name);
        if (found is null)
            return (new Drawing(DrawingFile.Parse(text, name)), null);
        return passphrase is null
            ? (null, found)
            : (new Drawing(DrawingFile.Parse(found.Open(passphrase, name), name)), found);
    }

    private IEnumerable<PlacedScan> Stored(PlacedScan common, string entry)
    {
        ScanSettings settings = common.Settings;
        string? layout = settings.Layout is null
            ? null
            : folder.Find(settings.Layout, "layout map", entry + ".layout", document.PlaceOf(entry + ".layout"));
        foreach (string file in settings.Files)
        {
            string path = folder.Find(
                file,
                "stack",
                entry + ".files",
                document.PlaceOf(entry + ".files"),
                mayBeFolder: true
            );
            IReadOnlyList<(string Line, IAScanSource Source)> lines = StackOpener.Open(path, layout);
            try
            {
                foreach ((string line, IAScanSource source) in lines)
                    if (
                        settings.Drawing is null
                        && (source is not ITruthSource truth || !truth.TruthLayers.Contains("thickness"))
                    )
                        throw new StackFormatException(
                            "The stack does not hold the true thickness.",
                            path,
                            line,
                            "name the drawing of the reference block, or name the truth in the layout map."
                        );
                yield return common with
                {
                    Name =
                        settings.Files.Count == 1
                            ? settings.Name
                            : $"{settings.Name}: {Path.GetFileNameWithoutExtension(file)}",
                    Sha256 = StackPoint.Hash(path, cancellation),
                    LayoutSha256 = layout is null ? "" : ContentHash.OfFile(layout),
                    Lines =
                    [
                        .. lines.Select(
                            (l, index) =>
                            {
                                IAScanSource Open() => StackPoint.OpenLine(path, layout, index);
                                return new PlacedLine(l.Line, l.Source.Info, Open, Open);
                            }
                        ),
                    ],
                };
            }
            finally
            {
                foreach ((_, IAScanSource source) in lines)
                    source.Dispose();
            }
        }
    }

    /// <summary>Repeats scan the same wall again: only noise and coupling are new.</summary>
    private IEnumerable<PlacedScan> Simulated(PlacedScan common, string entry)
    {
        ScanSettings settings = common.Settings;
        string file = settings.Scene!;
        string key = entry + ".scene";
        (string text, string sceneFolder) = folder.Scene(file, key, document.PlaceOf(key));
        Scene scene = SceneText
            .Read(text, file, MethodReader.Changes(settings.Set, entry + ".set", document.PlaceOf(entry + ".set")))
            .Value;
        for (int repeat = 0; repeat < settings.Repeats; repeat++)
        {
            ulong seed = SplitMix64.Mix(
                ContentHash.Word(settings.Name) + SplitMix64.Mix((ulong)document.Value.Header.Seed + (ulong)repeat)
            );
            Scene own = scene with { Header = scene.Header with { NoiseSeed = (long)(seed >> 1) } };
            SceneModel model = SceneModel.Compile(own, sceneFolder);
            yield return common with
            {
                Name =
                    settings.Repeats == 1
                        ? settings.Name
                        : string.Create(CultureInfo.InvariantCulture, $"{settings.Name}: {repeat + 1}"),
                Sha256 = ContentHash.Of(SceneText.Write(own)),
                IsSimulated = true,
                Lines =
                [
                    .. Enumerable
                        .Range(0, model.Lines)
                        .Select(line => new PlacedLine(
                            model.Lines == 1 ? "" : model.InfoOf(line).Name,
                            model.InfoOf(line),
                            () => SceneBlock.InMemory(model, line, cancellation),
                            // The truth of a scene needs none of its A-scans.
                            () => new SceneSource(model, line)
                        )),
                ],
            };
        }
    }
}
