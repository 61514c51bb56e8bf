using System.Globalization;
using System.Text;
using EchoToThickness.Storage.Foreign;
using EchoToThickness.Storage.Hdf5;
using static System.FormattableString;

namespace EchoToThickness.Storage.Describe;

/// <summary>Proposes a layout map for a foreign file: every guess with its reason as a comment, every gap as a <c># missing:</c> line.</summary>
internal static class LayoutProposer
{
    /// <summary>What is proposed for neighbours before the samples have been looked at.</summary>
    internal const string NeighboursBoth =
        "neighbours = \"both\" # say \"scan\", \"beam\" or \"none\" where cells do not lie side by side\n";

    private static readonly string[] SampleNames =
    [
        "ascan",
        "a_scan",
        "wave",
        "rf",
        "signal",
        "echo",
        "raw",
        "data",
        "amplitude",
        "samples",
        "trace",
    ];
    private static readonly string[] OtherNames =
    [
        "truth",
        "mask",
        "time",
        "position",
        "encoder",
        "index",
        "wall",
        "thickness",
        "uncertainty",
    ];

    /// <summary>Proposes a map for an HDF5 file; null when it holds nothing that could be A-scans.</summary>
    public static string? ForHdf5(string path, Hdf5File file, Hdf5Contents contents)
    {
        List<(Hdf5Dataset Dataset, double Score)> candidates = [];
        foreach (string name in contents.Datasets)
        {
            Hdf5Dataset dataset = file.Dataset(name);
            if (
                dataset.Type.SampleType is null
                || dataset.Count < 16
                || dataset.Dimensions.Count(d => d > 1) is 0 or > 3
            )
                continue;
            candidates.Add((dataset, Score(dataset)));
        }
        if (candidates.Count == 0)
            return null;
        Hdf5Dataset best = candidates.MaxBy(c => c.Score).Dataset;
        Hdf5ArrayStore store = new(path, best, best.Type.SampleType!.Value);
        string leaf = best.Path[(best.Path.LastIndexOf('/') + 1)..];
        // Groups beside one another with a dataset of the same name and rank: one line each.
        string[] siblings =
        [
            .. candidates
                .Select(c => c.Dataset)
                .Where(d =>
                    d.Path.EndsWith("/" + leaf, StringComparison.Ordinal)
                    && d.Dimensions.Count == best.Dimensions.Count
                    && d.Type == best.Type
                )
                .Select(d => d.Path[..d.Path.LastIndexOf('/')])
                .Where(g => g.Length > 0)
                .Order(NaturalOrder.Instance),
        ];
        bool lines = siblings.Length > 1;
        string group = lines ? siblings[0] : "";
        if (lines)
        {
            best = file.Dataset(group + "/" + leaf);
            store = new Hdf5ArrayStore(path, best, best.Type.SampleType!.Value);
        }
        StringBuilder text = new();
        Head(text, path);
        if (lines)
            text.Append(Invariant($"groups = [{string.Join(", ", siblings.Select(Quote))}] # one line each\n"));
        FactGuess facts = new(file, contents, best, group);
        AxisNames axes = AxisNames.Guess(store, facts.LengthsByName(), facts.Repeats);
        text.Append("\n[samples]\n");
        text.Append(
            Invariant(
                $"dataset = {Quote(lines ? leaf : best.Path)} # [{string.Join(" x ", best.Dimensions)}] {best.Type.Describe()}\n"
            )
        );
        Axes(text, axes);
        facts.Write(text, axes);
        return text.ToString();
    }

    /// <summary>Proposes a map for a <c>.npy</c> file or a folder of them.</summary>
    public static string ForArray(string path, IArrayStore store, bool turned, bool folder)
    {
        StringBuilder text = new();
        Head(text, path);
        AxisNames axes = AxisNames.Guess(store, [], _ => 0);
        text.Append("\n[samples]\n");
        text.Append(
            Invariant($"# [{string.Join(" x ", turned ? store.Shape.Reverse() : store.Shape)}] {store.Type}\n")
        );
        Axes(
            text,
            turned ? axes.TurnedOver()
                : folder && store.Shape.Count == 2 ? axes.WithBeams()
                : axes
        );
        FactGuess.WriteMissing(text);
        return text.ToString();
    }

    /// <summary>Proposes the frame of a map for a raw file.</summary>
    public static string ForRaw(string path, long bytes)
    {
        StringBuilder text = new();
        Head(text, path);
        text.Append("\n[samples]\n");
        text.Append("axes = [\"scan\", \"beam\", \"sample\"]\n");
        text.Append(
            Invariant(
                $"# missing: type = \"int16\" # the file holds {bytes} bytes: {bytes / 2} samples of 16 bits, without a header\n"
            )
        );
        text.Append("# missing: byte_order = \"little\"\n");
        text.Append("# missing: header_bytes = 0\n");
        text.Append("# missing: extent = [0, 64, 1000] # 0: taken from the length of the file\n");
        FactGuess.WriteMissing(text);
        return text.ToString();
    }

    private static void Head(StringBuilder text, string path)
    {
        text.Append(
            Invariant(
                $"# Layout map proposed for {Path.GetFileName(Path.TrimEndingDirectorySeparator(path))}. Check every guess.\n"
            )
        );
        text.Append("layout_version = 1\n");
    }

    private static void Axes(StringBuilder text, AxisNames axes)
    {
        text.Append(
            CultureInfo.InvariantCulture,
            $"axes = [{string.Join(", ", axes.Words.Select(Quote))}] # {axes.Reason}\n"
        );
        if (axes.Beams > 0)
            text.Append(Invariant($"beams = {axes.Beams} # every encoder position is stored so often\n"));
        text.Append(NeighboursBoth);
    }

    private static double Score(Hdf5Dataset dataset)
    {
        string name = UnitGuess.Normal(dataset.Path);
        double score = 2 * Math.Log10(dataset.Count) + 2 * Math.Min(3, dataset.Dimensions.Count(d => d > 1));
        if (SampleNames.Any(n => name.Contains(n, StringComparison.Ordinal)))
            score += 3;
        if (OtherNames.Any(n => name.Contains(n, StringComparison.Ordinal)))
            score -= 4;
        if (dataset.Type.Class == Hdf5TypeClass.Integer)
            score += 1;
        return score;
    }

    internal static string Quote(string text) =>
        "\""
        + text.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal)
        + "\"";
}
