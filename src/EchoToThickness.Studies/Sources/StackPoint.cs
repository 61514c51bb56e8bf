using EchoToThickness.Stacks;
using EchoToThickness.Storage.Files;
using EchoToThickness.Storage.Foreign;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Sources;

/// <summary>A stored stack with truth; every scan line is a block.</summary>
public sealed class StackPoint : StudyPoint
{
    private readonly StackSettings _settings;
    private readonly string _path;
    private readonly string? _layoutPath;
    private readonly IReadOnlyList<(string Line, StackInfo Info)> _lines;

    private StackPoint(
        StackSettings settings,
        IReadOnlyList<SweepValue> values,
        string path,
        string? layoutPath,
        string identity,
        IReadOnlyList<(string Line, StackInfo Info)> lines
    )
        : base(settings.Name, values, identity)
    {
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
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="StackFormatException">The stack cannot be read, or a line of it holds no true thickness.</exception>
    public static StackPoint Open(
        StackSettings settings,
        string path,
        string name,
        string? layoutPath,
        CancellationToken cancellation
    )
    {
        ArgumentNullException.ThrowIfNull(settings);
        IReadOnlyList<(string Line, IAScanSource Source)> lines = StackOpener.Open(path, layoutPath);
        try
        {
            foreach ((string line, IAScanSource source) in lines)
                if (source is not ITruthSource truth || !truth.TruthLayers.Contains("thickness"))
                    throw new StackFormatException(
                        "The stack does not hold the true thickness.",
                        path,
                        line,
                        "use a simulated stack or a reference block, or name the truth in the layout map."
                    );
            string identity =
                $"stack {Hash(path, cancellation)}\nlayout {(layoutPath is null ? "" : ContentHash.Of(File.ReadAllText(layoutPath)))}\n"
                + $"resample {settings.Resample} {settings.BlockScans} {settings.BlockBeams}";
            return new StackPoint(
                settings,
                [new SweepValue("stack", name, double.NaN)],
                path,
                layoutPath,
                identity,
                [.. lines.Select(l => (l.Line, l.Source.Info))]
            );
        }
        finally
        {
            foreach ((_, IAScanSource source) in lines)
                source.Dispose();
        }
    }

    /// <inheritdoc/>
    public override int Blocks => _lines.Count;

    /// <inheritdoc/>
    public override string BlockIdentity(int block) => "line " + _lines[block].Line;

    /// <inheritdoc/>
    public override StackInfo InfoOf(int block) => _lines[block].Info;

    /// <inheritdoc/>
    public override StudyBlock Load(int block, CancellationToken cancellation)
    {
        IReadOnlyList<(string Line, IAScanSource Source)> lines = StackOpener.Open(_path, _layoutPath);
        for (int i = 0; i < lines.Count; i++)
            if (i != block)
                lines[i].Source.Dispose();
        IAScanSource source = lines[block].Source;
        try
        {
            return new StudyBlock
            {
                Source = source,
                Truth = TruthReader.Read(
                    source,
                    Clusters.Of(source.Info.Shape, _settings.Resample, _settings.BlockScans, _settings.BlockBeams)
                ) with
                {
                    Planted = TruthReader.Planted(source),
                },
            };
        }
        catch
        {
            source.Dispose();
            throw;
        }
    }

    private static string Hash(string path, CancellationToken cancellation)
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
