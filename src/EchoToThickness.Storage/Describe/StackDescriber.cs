using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Stacks.Sanity;
using EchoToThickness.Storage.Foreign;
using EchoToThickness.Storage.Hdf5;
using EchoToThickness.Storage.Layouts;
using EchoToThickness.Storage.Native;

namespace EchoToThickness.Storage.Describe;

/// <summary>Says what a file or folder holds, proposes a layout map for a foreign one, and inspects the samples.</summary>
public static class StackDescriber
{
    private const int LongestValue = 60;

    /// <summary>Describes a stack.</summary>
    /// <param name="path">File or folder.</param>
    /// <param name="layoutPath">Layout map to read it through; null to propose one where it is needed.</param>
    /// <param name="cancellation">Stops the inspection of the samples.</param>
    /// <exception cref="StackFormatException">There is nothing at the path, or it is damaged beyond listing its contents.</exception>
    /// <exception cref="ProcedureException">The layout map is at fault.</exception>
    public static StackDescription Describe(
        string path,
        string? layoutPath = null,
        CancellationToken cancellation = default
    )
    {
        ArgumentNullException.ThrowIfNull(path);
        TomlDocument<LayoutMap>? layout = layoutPath is null ? null : LayoutFile.Read(layoutPath);
        StackFileKind kind = StackFileKinds.Of(path);
        bool native = kind == StackFileKind.Hdf5 && StackFile.IsStack(path);
        (IReadOnlyList<DescribedObject> objects, string? proposal) = Contents(path, kind, !native && layout is null);
        List<string> problems = [];
        List<DescribedLine> lines = [];
        try
        {
            TomlDocument<LayoutMap>? map = layout;
            if (map is null && !native)
            {
                if (proposal is null)
                    throw new StackFormatException(
                        "Nothing in it looks like A-scans.",
                        path,
                        "",
                        "name the dataset in a layout map, or check the file."
                    );
                map = LayoutFile.Parse(WithTimeBase(proposal, problems), "proposed layout map");
            }
            foreach ((string name, IAScanSource source) in StackOpener.Open(path, map))
            {
                using (source)
                    lines.Add(Line(name, source, cancellation));
            }
            if (proposal is not null)
                proposal = WithNeighbours(proposal, lines);
        }
        catch (Exception e) when (e is StackFormatException or ProcedureException)
        {
            problems.Add(e.Message);
        }
        return new StackDescription
        {
            Path = path,
            Kind = kind,
            IsNative = native,
            Bytes =
                kind == StackFileKind.Folder
                    ? FolderOpener.Files(path).Sum(ForeignFile.Length)
                    : ForeignFile.Length(path),
            Objects = objects,
            Lines = lines,
            ProposedLayout = proposal,
            Problems = problems,
            LineFindings = SanityInspector.CompareLines([.. lines.Select(l => l.Sanity)]),
        };
    }

    /// <summary>Samples can be looked at before anyone states their rate; what depends on it is then said to be assumed.</summary>
    private static string WithTimeBase(string proposal, List<string> problems)
    {
        const string gap = "# missing: sample_rate";
        if (!proposal.Contains(gap, StringComparison.Ordinal))
            return proposal;
        problems.Add(
            "Nothing states the sample rate: the times and frequencies shown assume 100 MHz. To fix: give sample_rate in the layout map."
        );
        return proposal.Replace(gap, "sample_rate", StringComparison.Ordinal);
    }

    /// <summary>Cells whose interface jumps from one to the next are no neighbours on one surface.</summary>
    private static string WithNeighbours(string proposal, List<DescribedLine> lines)
    {
        // The largest believable change from one neighbour to the next, as in [interface] max_jump of the default procedure.
        const double believedSeconds = 0.2e-6;
        bool Jumps(Func<AxisFacts, double> step) =>
            lines.Any(l => step(l.Sanity.Axes) > believedSeconds * l.Info.TimeBase.SampleRateHz);
        bool scan = !Jumps(a => a.ScanStepSamples);
        bool beam = !Jumps(a => a.BeamStepSamples);
        if (scan && beam)
            return proposal;
        string word =
            scan ? "scan"
            : beam ? "beam"
            : "none";
        string along =
            scan ? "along beam"
            : beam ? "along scan"
            : "along both axes";
        return proposal.Replace(
            LayoutProposer.NeighboursBoth,
            $"neighbours = \"{word}\" # the interface jumps from cell to cell {along}; \"both\" if they lie side by side\n",
            StringComparison.Ordinal
        );
    }

    private static DescribedLine Line(string name, IAScanSource source, CancellationToken cancellation) =>
        new(
            name,
            source.Info,
            source is ITruthSource truth ? truth.TruthLayers : [],
            MissingFacts(source.Info),
            SanityInspector.Inspect(source, cancellation: cancellation)
        );

    private static List<string> MissingFacts(StackInfo info)
    {
        List<string> missing = [];
        if (info.Acquisition.FrequencyHz is null)
            missing.Add("centre frequency (band-pass, checks of the time base)");
        if (info.Acquisition.VelocityMetresPerSecond is null)
            missing.Add("velocity in the metal (the procedure must give it)");
        if (info.ScanPositionsMetres is null && info.Shape.Scans > 1)
            missing.Add("scan positions (the map counts cells)");
        if (info.IndexPositionsMetres is null && info.Shape.Beams > 1)
            missing.Add("index positions (the map counts cells)");
        if (info.Acquisition.GainDecibels is null)
            missing.Add("gain (lines of different gain cannot be told)");
        if (info.Component.NominalWallMetres is null)
            missing.Add("nominal wall (half path and short records are harder to see)");
        return missing;
    }

    private static (IReadOnlyList<DescribedObject>, string?) Contents(string path, StackFileKind kind, bool propose)
    {
        switch (kind)
        {
            case StackFileKind.Hdf5:
                using (Hdf5File file = Hdf5File.Open(path))
                {
                    Hdf5Contents contents = file.Walk();
                    return (Objects(file, contents), propose ? LayoutProposer.ForHdf5(path, file, contents) : null);
                }
            case StackFileKind.Npy:
                return Npy(path, path, propose, false);
            case StackFileKind.Folder:
                string first = FolderOpener.Files(path)[0];
                StackFileKind inside = StackFileKinds.Of(first);
                if (inside == StackFileKind.Npy)
                    return Npy(path, first, propose, true);
                if (inside == StackFileKind.Hdf5)
                    return Contents(first, inside, propose);
                return ([], propose ? LayoutProposer.ForRaw(path, ForeignFile.Length(first)) : null);
            default:
                return ([], propose ? LayoutProposer.ForRaw(path, ForeignFile.Length(path)) : null);
        }
    }

    private static (IReadOnlyList<DescribedObject>, string?) Npy(string path, string file, bool propose, bool folder)
    {
        NpyHeader header = NpyHeader.Read(file);
        DescribedObject array = new(
            "",
            header.Shape,
            header.Type.ToString(),
            (header.BigEndian ? "big-endian" : "little-endian")
                + (header.FortranOrder ? ", Fortran order" : ", C order"),
            []
        );
        if (!propose)
            return ([array], null);
        bool turned = header.FortranOrder && header.Shape.Count > 1;
        using FlatArrayStore store = new(
            file,
            header.DataOffset,
            turned ? [.. header.Shape.Reverse()] : header.Shape,
            header.Type,
            header.BigEndian
        );
        return ([array], LayoutProposer.ForArray(path, store, turned, folder));
    }

    private static List<DescribedObject> Objects(Hdf5File file, Hdf5Contents contents)
    {
        List<DescribedObject> objects = [];
        foreach (string group in contents.Groups)
            objects.Add(new DescribedObject(group, null, "", "", Attributes(file.Attributes(group))));
        foreach (string path in contents.Datasets)
        {
            Hdf5Dataset dataset = file.Dataset(path);
            string storage =
                dataset.ChunkDimensions.Count == 0
                    ? "contiguous"
                    : "chunks of "
                        + string.Join(" x ", dataset.ChunkDimensions)
                        + (dataset.Filters.Count == 0 ? "" : ", " + string.Join(" + ", dataset.Filters));
            objects.Add(
                new DescribedObject(
                    path,
                    dataset.Dimensions,
                    dataset.Type.Describe(),
                    storage,
                    Attributes(dataset.Attributes())
                )
            );
        }
        return objects;
    }

    private static List<(string, string)> Attributes(IReadOnlyList<Hdf5Attribute> attributes)
    {
        List<(string, string)> values = [];
        foreach (Hdf5Attribute attribute in attributes)
        {
            string text =
                attribute.IsNumber ? FormattableString.Invariant($"{attribute.ToDouble():G9}")
                : attribute.IsText ? attribute.ToText()
                : $"{attribute.Count} of {attribute.Type.Describe()}";
            text = new string([.. text.Select(c => char.IsControl(c) ? ' ' : c)]);
            values.Add((attribute.Name, text.Length > LongestValue ? text[..(LongestValue - 3)] + "..." : text));
        }
        return values;
    }
}
