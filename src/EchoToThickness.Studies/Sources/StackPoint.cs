using EchoToThickness.Stacks;
using EchoToThickness.Storage.Files;
using EchoToThickness.Storage.Foreign;
using EchoToThickness.Studies.Drawings;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Sources;

/// <summary>A stored stack with truth, its own or a drawing's; every scan line is a block.</summary>
public sealed class StackPoint : StudyPoint
{
    private readonly StackSettings _settings;
    private readonly string _path;
    private readonly string? _layoutPath;
    private readonly IReadOnlyList<(string Line, StackInfo Info)> _lines;
    private readonly Drawing? _drawing;

    private StackPoint(
        StackSettings settings,
        IReadOnlyList<SweepValue> values,
        string path,
        string? layoutPath,
        string identity,
        IReadOnlyList<(string Line, StackInfo Info)> lines,
        Drawing? drawing,
        IReadOnlyList<DrawingRegistration> registrations
    )
        : base(settings.Name, values, identity)
    {
        _drawing = drawing;
        Registrations = registrations;
        _settings = settings;
        _path = path;
        _layoutPath = layoutPath;
        _lines = lines;
    }

    /// <summary>Looks at a stack and computes its SHA-256 (remembered beside it).</summary>
    /// <param name="settings">The section of the study.</param>
    /// <param name="path">File or folder.</param>
    /// <param name="name">Its name in tables.</param>
    /// <param name="layoutPath">Layout map; null for a native stack.</param>
    /// <param name="drawing">Drawing of the block that was scanned; null when the stack holds its truth.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <param name="needsTruth">Whether a stack without truth is refused; else its walls are unknown (NaN).</param>
    /// <exception cref="StackFormatException">
    /// The stack cannot be read, or a line of it holds no true thickness, or cannot be laid on the drawing.
    /// </exception>
    public static StackPoint Open(
        StackSettings settings,
        string path,
        string name,
        string? layoutPath,
        StackDrawing? drawing,
        CancellationToken cancellation,
        bool needsTruth = true
    )
    {
        ArgumentNullException.ThrowIfNull(settings);
        IReadOnlyList<(string Line, IAScanSource Source)> lines = StackOpener.Open(path, layoutPath);
        try
        {
            foreach ((string line, IAScanSource source) in lines)
                if (
                    needsTruth
                    && drawing is null
                    && (source is not ITruthSource truth || !truth.TruthLayers.Contains("thickness"))
                )
                    throw new StackFormatException(
                        "The stack does not hold the true thickness.",
                        path,
                        line,
                        "use a simulated stack, name the truth in the layout map, or name the drawing of the reference block."
                    );
            string hash = Hash(path, cancellation);
            string identity =
                $"stack {hash}\nlayout {(layoutPath is null ? "" : ContentHash.Of(File.ReadAllText(layoutPath)))}\n"
                + $"resample {settings.Resample} {settings.BlockScans} {settings.BlockBeams}";
            DrawingRegistration[] registrations = drawing is null
                ? []
                : [.. lines.Select(l => drawing.Register(l.Source, path, l.Line, cancellation))];
            if (drawing is not null)
                identity += "\n" + drawing.Identity;
            return new StackPoint(
                settings,
                [new SweepValue("stack", name, double.NaN)],
                path,
                layoutPath,
                identity,
                [.. lines.Select(l => (l.Line, l.Source.Info))],
                drawing?.Drawing,
                registrations
            )
            {
                StackSha256 = hash,
            };
        }
        finally
        {
            foreach ((_, IAScanSource source) in lines)
                source.Dispose();
        }
    }

    /// <summary>Where each line lies on the drawing; empty without a drawing.</summary>
    public IReadOnlyList<DrawingRegistration> Registrations { get; }

    /// <summary>What the drawing says of a line's cells.</summary>
    /// <param name="block">Number of the block.</param>
    /// <exception cref="InvalidOperationException">There is no drawing.</exception>
    public DrawnTruth DrawnTruthOf(int block) =>
        _drawing is { } drawing
            ? DrawnTruth.Of(drawing, ScannedCells.Of(_lines[block].Info, _path), Registrations[block])
            : throw new InvalidOperationException("The stack holds its own truth; no drawing is named.");

    /// <summary>The drawing; null when the stack holds its own truth.</summary>
    public Drawing? Drawing => _drawing;

    /// <summary>Name of a line; empty for the only one of a file.</summary>
    /// <param name="block">Number of the block.</param>
    public string LineOf(int block) => _lines[block].Line;

    /// <summary>SHA-256 of the file; of a folder that of the names and hashes of its files.</summary>
    public string StackSha256 { get; private init; } = "";

    /// <summary>Where it lies.</summary>
    public string StackPath => _path;

    /// <inheritdoc/>
    public override int Blocks => _lines.Count;

    /// <inheritdoc/>
    public override string BlockIdentity(int block) => "line " + _lines[block].Line;

    /// <inheritdoc/>
    public override StackInfo InfoOf(int block) => _lines[block].Info;

    /// <inheritdoc/>
    public override StudyBlock Load(int block, CancellationToken cancellation)
    {
        IAScanSource source = OpenLine(_path, _layoutPath, block);
        try
        {
            int[] clusters = Clusters.Of(
                source.Info.Shape,
                _settings.Resample,
                _settings.BlockScans,
                _settings.BlockBeams
            );
            return new StudyBlock
            {
                Source = source,
                Truth = _drawing is null
                    ? TruthReader.Read(source, clusters) with
                    {
                        Planted = TruthReader.Planted(source),
                        CouplantPathMetres = TruthReader.CouplantPathMetres(source),
                    }
                    : StackDrawing.TruthOf(
                        DrawnTruthOf(block),
                        source.Info,
                        _settings.Resample == ResampleChoice.Feature ? null : clusters
                    ),
            };
        }
        catch
        {
            source.Dispose();
            throw;
        }
    }

    /// <summary>One line of a stack; the others are closed.</summary>
    internal static IAScanSource OpenLine(string path, string? layoutPath, int line)
    {
        IReadOnlyList<(string Line, IAScanSource Source)> lines = StackOpener.Open(path, layoutPath);
        for (int i = 0; i < lines.Count; i++)
            if (i != line)
                lines[i].Source.Dispose();
        return lines[line].Source;
    }

    internal static string Hash(string path, CancellationToken cancellation)
    {
        if (!Directory.Exists(path))
            return StackHash.StartAsync(path, cancellation).GetAwaiter().GetResult();
        IEnumerable<string> files = Directory
            .EnumerateFiles(path)
            .Where(f => !f.EndsWith(".json", StringComparison.Ordinal));
        return ContentHash.Of(
            string.Concat(
                files
                    .Order(StringComparer.Ordinal)
                    .Select(f =>
                        $"{Path.GetFileName(f)} {StackHash.StartAsync(f, cancellation).GetAwaiter().GetResult()}\n"
                    )
            )
        );
    }
}
