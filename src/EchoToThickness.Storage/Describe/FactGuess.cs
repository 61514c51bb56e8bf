using System.Text;
using System.Text.RegularExpressions;
using EchoToThickness.Storage.Hdf5;
using EchoToThickness.Storage.Layouts;
using EchoToThickness.Units;
using static System.FormattableString;

namespace EchoToThickness.Storage.Describe;

/// <summary>Looks through attributes and small datasets for the facts of a stack.</summary>
internal sealed partial class FactGuess
{
    private static readonly (string Word, Regex Pattern)[] AxisDatasets =
    [
        ("sample", TimeName()),
        ("scan", ScanName()),
        ("beam", BeamName()),
    ];

    private static readonly (string Key, Regex Pattern)[] TruthDatasets =
    [
        ("minimum_thickness", new Regex("min\\w*_?(thick|wall)|(thick|wall)\\w*_min")),
        ("mean_thickness", new Regex("mean\\w*_?(thick|wall)|(thick|wall)\\w*_mean")),
        ("reflector_depth", new Regex("lamination|reflector|inclusion")),
        ("couplant_path", new Regex("gap|couplant|lift_?off|stand_?off|water_?path")),
        ("coating_thickness", new Regex("paint|coat")),
        ("thickness", new Regex("thick|wall")),
    ];

    private readonly List<Found> _found = [];
    private readonly List<(string Path, IReadOnlyList<long> Shape, bool HasUnits)> _small = [];
    private readonly string _group;
    private readonly Hdf5File _file;

    /// <summary>Gathers candidates.</summary>
    public FactGuess(Hdf5File file, Hdf5Contents contents, Hdf5Dataset samples, string group)
    {
        _group = group;
        _file = file;
        // The samples' own attributes count first, then those of the groups around them, the file's last.
        List<string> owners = [samples.Path];
        for (string at = samples.Path; at.LastIndexOf('/') is int cut and >= 0; )
        {
            at = at[..cut];
            owners.Add(at.Length == 0 ? "/" : at);
        }
        foreach (string owner in owners.Concat(contents.Groups.Except(owners)))
        {
            bool other =
                group.Length > 0
                && owner != "/"
                && owner != group
                && !owner.StartsWith(group + "/", StringComparison.Ordinal);
            if (other)
                continue;
            foreach (Hdf5Attribute attribute in file.Attributes(owner))
                Add(owner, attribute);
        }
        foreach (string path in contents.Datasets)
        {
            if (path == samples.Path || (group.Length > 0 && !path.StartsWith(group + "/", StringComparison.Ordinal)))
                continue;
            Hdf5Dataset dataset = file.Dataset(path);
            if (!Hdf5Values.IsNumeric(dataset.Type))
                continue;
            bool units = dataset.Attributes().Any(a => a.Name is "units" or "unit" && a.IsText);
            _small.Add((path, dataset.Dimensions, units));
            string leaf = path[(path.LastIndexOf('/') + 1)..];
            if (dataset.Count == 1)
                _found.Add(
                    new Found(
                        leaf,
                        "dataset = " + LayoutProposer.Quote(Relative(path)),
                        dataset.ReadDoubles()[0],
                        null,
                        units
                    )
                );
        }
    }

    /// <summary>Names of axes and lengths of datasets that suggest them.</summary>
    public IReadOnlyList<(string Word, long Length)> LengthsByName() =>
        [
            .. _small
                .Where(s => s.Shape.Count(d => d > 1) == 1)
                .SelectMany(s =>
                    AxisDatasets.Where(a => a.Pattern.IsMatch(Leaf(s.Path))).Select(a => (a.Word, s.Shape.Max()))
                ),
        ];

    /// <summary>How often each encoder position repeats in a row, where all do equally often; 0 otherwise.</summary>
    /// <param name="length">Length of the encoder dataset.</param>
    public int Repeats(long length)
    {
        foreach ((string path, IReadOnlyList<long> shape, _) in _small)
        {
            if (shape.Count(d => d > 1) != 1 || shape.Max() != length || !ScanName().IsMatch(Leaf(path)))
                continue;
            double[] values = _file.Dataset(path).ReadDoubles();
            int run = 1;
            while (run < values.Length && values[run] == values[0])
                run++;
            bool even = run > 1 && run < values.Length && values.Length % run == 0;
            for (int i = 1; even && i < values.Length; i++)
                even = values[i] == values[i - 1] == (i % run != 0);
            if (even)
                return run;
        }
        return 0;
    }

    /// <summary>Writes all sections behind <c>[samples]</c>.</summary>
    public void Write(StringBuilder text, AxisNames axes)
    {
        Present(text, axes);
        HashSet<string> used = [];
        text.Append("\n[time]\n");
        bool rate = Fact(text, "time", "sample_rate", used);
        bool interval = !rate && Fact(text, "time", "interval", used);
        bool axis =
            !rate && !interval && Axis(text, "axis", "sample", axes.Extent("sample"), 0, Dimension.Time, ["us", "s"]);
        if (!rate && !interval && !axis)
            Missing(text, "time", "sample_rate");
        if (!axis && !Fact(text, "time", "start", used))
            Missing(text, "time", "start");
        text.Append("\n[positions]\n");
        if (!Axis(text, "scan", "scan", axes.Extent("scan"), axes.Cells, Dimension.Length, ["mm"]))
            text.Append("# missing: scan = { first = \"0 mm\", step = \"1 mm\" } # positions on the map\n");
        if (!Axis(text, "index", "beam", axes.Extent("beam"), axes.Cells, Dimension.Length, ["mm"]))
            text.Append("# missing: index = { first = \"0 mm\", step = \"1 mm\" } # positions on the map\n");
        text.Append("\n[acquisition]\nform = \"rf\" # see the sanity report\n");
        Section(text, "acquisition", used);
        text.Append("\n[component]\n");
        Section(text, "component", used);
        Truth(text, axes);
    }

    /// <summary>Writes the sections of a file that holds samples only.</summary>
    public static void WriteMissing(StringBuilder text)
    {
        text.Append("\n[time]\n");
        Missing(text, "time", "sample_rate");
        Missing(text, "time", "start");
        text.Append("\n[positions]\n");
        text.Append("# missing: scan = { first = \"0 mm\", step = \"1 mm\" } # positions on the map\n");
        text.Append("# missing: index = { first = \"0 mm\", step = \"1 mm\" } # positions on the map\n");
        text.Append("\n[acquisition]\nform = \"rf\" # see the sanity report\n");
        foreach (string key in (string[])["frequency", "velocity", "gain"])
            Missing(text, "acquisition", key);
        text.Append("\n[component]\n");
        Missing(text, "component", "nominal_wall");
    }

    private void Add(string owner, Hdf5Attribute attribute)
    {
        string source =
            "attribute = " + LayoutProposer.Quote(Relative(owner == "/" ? "" : owner) + "@" + attribute.Name);
        if (attribute.IsNumber)
            _found.Add(new Found(attribute.Name, source, attribute.ToDouble(), null, false));
        else if (attribute.IsText && attribute.ToText() is { Length: < 40 } text)
            _found.Add(new Found(attribute.Name, source, double.NaN, text.Trim(), false));
    }

    private void Section(StringBuilder text, string section, HashSet<string> used)
    {
        foreach (FactPattern pattern in FactPattern.All.Where(p => p.Section == section))
        {
            if (
                !Fact(text, section, pattern.Key, used)
                && pattern.Key is "frequency" or "velocity" or "gain" or "nominal_wall"
            )
                Missing(text, section, pattern.Key);
        }
    }

    private bool Fact(StringBuilder text, string section, string key, HashSet<string> used)
    {
        FactPattern pattern = FactPattern.All.First(p => p.Section == section && p.Key == key);
        foreach (Found found in _found)
        {
            string name = UnitGuess.Normal(found.Name);
            // Earlier patterns take a name first: a shear velocity is not the velocity.
            if (used.Contains(found.Source) || FactPattern.All.FirstOrDefault(p => p.Pattern.IsMatch(name)) != pattern)
                continue;
            if (Entry(pattern, found) is not { } entry)
                continue;
            used.Add(found.Source);
            text.Append(Invariant($"{key} = {entry}\n"));
            return true;
        }
        return false;
    }

    private static string? Entry(FactPattern pattern, Found found)
    {
        if (found.Text is { } words)
        {
            bool fits = pattern.Dimension is { } d
                ? UnitText.TryParse(words, d, out double si) && pattern.Plausible(si)
                : ConstantNumber.TryParse(words, out double plain) && pattern.Plausible(plain);
            return fits ? Invariant($"{{ {found.Source} }} # \"{words}\"") : null;
        }
        if (pattern.Dimension is not { } dimension)
            return pattern.Plausible(found.Value) ? Invariant($"{{ {found.Source} }} # {found.Value:G6}") : null;
        if (found.HasUnits)
            return Invariant($"{{ {found.Source} }} # {found.Value:G6}, unit by the dataset's own attribute");
        if (dimension == Dimension.Fraction)
        {
            return pattern.Plausible(found.Value) ? Invariant($"{{ {found.Source} }} # {found.Value:G6}")
                : pattern.Plausible(found.Value / 100)
                    ? Invariant($"{{ {found.Source}, unit = \"%\" }} # {found.Value:G6}")
                : null;
        }
        string? named = UnitGuess.FromName(found.Name, dimension);
        string? unit = named ?? UnitGuess.FromSize(found.Value, dimension, pattern.Low, pattern.High);
        string doubt = named is null ? ": unit guessed from its size" : "";
        return unit is null ? null : Invariant($"{{ {found.Source}, unit = \"{unit}\" }} # {found.Value:G6}{doubt}");
    }

    private bool Axis(
        StringBuilder text,
        string key,
        string word,
        long extent,
        long cells,
        Dimension dimension,
        string[] units
    )
    {
        if (extent < 2)
            return false;
        Regex pattern = AxisDatasets.First(a => a.Word == word).Pattern;
        var hits = _small.Where(s =>
            s.Shape.Count(d => d > 1) == 1
            && (s.Shape.Max() == extent || s.Shape.Max() == cells)
            && pattern.IsMatch(Leaf(s.Path))
        );
        foreach ((string path, _, bool hasUnits) in hits)
        {
            string? named = UnitGuess.FromName(Leaf(path), dimension);
            string unit = hasUnits ? "" : $", unit = \"{named ?? units[0]}\"";
            string doubt = !hasUnits && named is null ? ": unit guessed" : "";
            text.Append(
                Invariant(
                    $"{key} = {{ dataset = {LayoutProposer.Quote(Relative(path))}{unit} }} # {extent} values{doubt}\n"
                )
            );
            return true;
        }
        return false;
    }

    private void Present(StringBuilder text, AxisNames axes)
    {
        foreach ((string path, IReadOnlyList<long> shape, _) in _small)
        {
            if (MaskName().IsMatch(Leaf(path)) && OverCells(shape, axes))
            {
                text.Append(
                    Invariant($"present = {{ dataset = {LayoutProposer.Quote(Relative(path))} }} # by its name\n")
                );
                return;
            }
        }
    }

    private void Truth(StringBuilder text, AxisNames axes)
    {
        bool head = false;
        HashSet<string> keys = [];
        foreach ((string path, IReadOnlyList<long> shape, bool hasUnits) in _small)
        {
            string name = Leaf(path);
            if (!TruthName().IsMatch(name) || !OverCells(shape, axes))
                continue;
            string? key = TruthDatasets.FirstOrDefault(t => t.Pattern.IsMatch(name)).Key;
            if (key is null || !keys.Add(key))
                continue;
            if (!head)
                text.Append("\n[truth]\n");
            head = true;
            string unit = hasUnits ? "" : $", unit = \"{UnitGuess.FromName(name, Dimension.Length) ?? "mm"}\"";
            text.Append(
                Invariant($"{key} = {{ dataset = {LayoutProposer.Quote(Relative(path))}{unit} }} # by its name\n")
            );
        }
    }

    private static bool OverCells(IReadOnlyList<long> shape, AxisNames axes)
    {
        long[] cells =
        [
            .. axes.Words.Zip(axes.Shape).Where(a => a.First != "sample" && a.Second > 1).Select(a => a.Second),
        ];
        return shape.Where(d => d > 1).SequenceEqual(cells);
    }

    private static void Missing(StringBuilder text, string section, string key)
    {
        FactPattern pattern = FactPattern.All.First(p => p.Section == section && p.Key == key);
        text.Append(Invariant($"# missing: {key} = {{ value = \"{pattern.Example}\" }} # {pattern.Purpose}\n"));
    }

    /// <summary>Paths below the group of a line are written from it.</summary>
    private string Relative(string path) =>
        _group.Length == 0 ? path
        : path == _group ? ""
        : path.StartsWith(_group + "/", StringComparison.Ordinal) ? path[(_group.Length + 1)..]
        : path.Length == 0 ? "/"
        : path;

    private static string Leaf(string path) => UnitGuess.Normal(path[(path.LastIndexOf('/') + 1)..]);

    private sealed record Found(string Name, string Source, double Value, string? Text, bool HasUnits);

    [GeneratedRegex("^time|^t(_|$)|_time(_|$)")]
    private static partial Regex TimeName();

    [GeneratedRegex("scan|encoder|travel|^x(_|$)|axial")]
    private static partial Regex ScanName();

    [GeneratedRegex("index|beam|element|law|^y(_|$)|circ")]
    private static partial Regex BeamName();

    [GeneratedRegex("mask|valid|present|recorded")]
    private static partial Regex MaskName();

    [GeneratedRegex("truth|true|actual|reference")]
    private static partial Regex TruthName();
}
