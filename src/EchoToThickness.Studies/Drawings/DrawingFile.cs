using System.Globalization;
using System.Text;
using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Drawings;

/// <summary>The drawing of a reference block as its file describes it. Lengths lie on the scanned surface, flat or unrolled.</summary>
public sealed record DrawingFile
{
    private const long LongestBytes = 4 << 20;

    /// <summary>The block as a whole.</summary>
    [ProcedureKey("block", "The block as a whole.")]
    public DrawingHeader Header { get; init; } = new();

    /// <summary>Steps.</summary>
    [ProcedureKey("step", "A rectangle with one certified wall; where steps overlap the later one counts. Any number.")]
    public IReadOnlyList<DrawnStep> Steps { get; init; } = [];

    /// <summary>Flat-bottom holes.</summary>
    [ProcedureKey("hole", "A flat-bottom hole from the far side; any number.")]
    public IReadOnlyList<DrawnHole> Holes { get; init; } = [];

    /// <summary>Pits.</summary>
    [ProcedureKey("pit", "A pit from the far side; any number.")]
    public IReadOnlyList<DrawnPit> Pits { get; init; } = [];

    /// <summary>What is not judged.</summary>
    [ProcedureKey("leave_out", "A rectangle that is not judged, such as an engraved mark; any number.")]
    public IReadOnlyList<LeaveOut> LeaveOuts { get; init; } = [];

    /// <summary>How a scan is laid on the drawing.</summary>
    [ProcedureKey("registration", "How a scan is laid on the drawing.")]
    public DrawingRegistrationSettings Registration { get; init; } = new();

    /// <summary>Reads and checks a drawing.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="ProcedureException">Every fault with file, line, key and remedy.</exception>
    /// <exception cref="IOException">The file cannot be read.</exception>
    public static DrawingFile Read(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        if (new FileInfo(path) is { Exists: true, Length: > LongestBytes })
            throw new ProcedureException(
                $"The file is larger than {LongestBytes >> 20} MB.",
                path,
                "give the drawing's TOML file."
            );
        return Parse(File.ReadAllText(path, Encoding.UTF8), Path.GetFileName(path));
    }

    /// <summary>Reads and checks a drawing's text.</summary>
    /// <param name="toml">The text.</param>
    /// <param name="fileName">Name for messages.</param>
    /// <exception cref="ProcedureException">Every fault with file, line, key and remedy.</exception>
    public static DrawingFile Parse(string toml, string fileName)
    {
        TomlDocument<DrawingFile> document = TomlBinder.Read<DrawingFile>(toml, fileName);
        ProcedureFinding[] findings = [.. document.Locate(Check(document.Value))];
        return findings.Length == 0 ? document.Value : throw new ProcedureException(findings);
    }

    /// <summary>The page docs/drawing-reference.md, Markdown with line feeds.</summary>
    public static string ReferenceText() =>
        ReferencePage.Of(
            typeof(DrawingFile),
            "Drawing reference",
            "A drawing tells what is certified of a reference block: steps, holes and pits with place, size and wall. It is a TOML file that "
                + "`[[stack]]` of a study names. Every quantity is text with its unit (`\"8.6 mm\"`); a key that is left out has its default; "
                + "an unknown key is an error. How drawings are used: [reference blocks](reference-blocks.md). This page is made from the "
                + "descriptions that the parser itself reads: run the tests with `ETT_WRITE_DOCS=1` to write it anew."
        );

    private static IEnumerable<ProcedureFinding> Check(DrawingFile file)
    {
        DrawingHeader block = file.Header;
        if (file.Steps.Count + file.Holes.Count + file.Pits.Count == 0 && block.WallMetres is null)
            yield return new ProcedureFinding(
                "block.wall",
                "Nothing on the drawing has a certified wall.",
                "state the block's wall, or add a [[step]], [[hole]] or [[pit]]."
            );
        var places = new List<(string Entry, string Name, double Along, double Across)>();
        for (int i = 0; i < file.Steps.Count; i++)
            places.Add((Entry("step", i), file.Steps[i].Name, file.Steps[i].AlongMetres, file.Steps[i].AcrossMetres));
        for (int i = 0; i < file.Holes.Count; i++)
            places.Add((Entry("hole", i), file.Holes[i].Name, file.Holes[i].AlongMetres, file.Holes[i].AcrossMetres));
        for (int i = 0; i < file.Pits.Count; i++)
            places.Add((Entry("pit", i), file.Pits[i].Name, file.Pits[i].AlongMetres, file.Pits[i].AcrossMetres));
        foreach ((string entry, string name, double along, double across) in places)
        {
            if (name.Trim().Length == 0)
                yield return new ProcedureFinding(entry + ".name", "The name is empty.", "name the feature.");
            if (along < 0 || along > block.LengthMetres)
                yield return Outside(entry + ".along", along, block.LengthMetres, "length");
            if (across < 0 || across > block.WidthMetres)
                yield return Outside(entry + ".across", across, block.WidthMetres, "width");
        }
        foreach (IGrouping<string, string> twice in places.GroupBy(p => p.Name, p => p.Entry).Where(g => g.Count() > 1))
            yield return new ProcedureFinding(
                twice.Last() + ".name",
                $"The name '{twice.Key}' stands for {twice.Count()} features.",
                "give each feature a name of its own."
            );
        var drawing = new Drawing(file with { Pits = [], Holes = [] });
        for (int i = 0; i < file.Holes.Count; i++)
            if (Deeper(drawing, file.Holes[i].AlongMetres, file.Holes[i].AcrossMetres, file.Holes[i].WallMetres))
                yield return Thick(Entry("hole", i), file.Holes[i].WallMetres);
        for (int i = 0; i < file.Pits.Count; i++)
        {
            DrawnPit pit = file.Pits[i];
            if (Deeper(drawing, pit.AlongMetres, pit.AcrossMetres, pit.WallMetres))
                yield return Thick(Entry("pit", i), pit.WallMetres);
            else if (double.IsNaN(drawing.WallMetres(pit.AlongMetres, pit.AcrossMetres)))
                yield return new ProcedureFinding(
                    Entry("pit", i) + ".wall",
                    "The wall around the pit is not certified, so its shape is not known.",
                    "state block.wall, or put the pit on a [[step]]."
                );
        }
    }

    private static bool Deeper(Drawing drawing, double along, double across, double wall) =>
        wall >= drawing.WallMetres(along, across);

    private static ProcedureFinding Thick(string entry, double wall) =>
        new(
            entry + ".wall",
            string.Create(CultureInfo.InvariantCulture, $"{wall * 1e3:0.###} mm is not less than the wall around it."),
            "write the wall that remains, not the depth."
        );

    private static ProcedureFinding Outside(string key, double found, double limit, string side) =>
        new(
            key,
            string.Create(
                CultureInfo.InvariantCulture,
                $"{found * 1e3:0.###} mm lies outside of the block, 0 to {limit * 1e3:0.###} mm."
            ),
            $"count from the drawing's zero point, or correct block.{side}."
        );

    private static string Entry(string section, int index) =>
        string.Create(CultureInfo.InvariantCulture, $"{section}[{index + 1}]");
}
