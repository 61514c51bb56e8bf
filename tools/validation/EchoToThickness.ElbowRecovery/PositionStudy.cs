using System.Diagnostics;
using System.Globalization;
using EchoToThickness.Components;
using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Simulation.Tests.Components;

namespace EchoToThickness.ElbowRecovery;

/// <summary>How often faults of positions are found on planted faults, and reported on sound scans; walls as a perfect measurement with noise gives them.</summary>
internal static class PositionStudy
{
    private static readonly (string Rms, string Length)[] Walls =
    [
        ("0.03 mm", "4 mm"),
        ("0.1 mm", "3 mm"),
        ("0.15 mm", "6 mm"),
        ("0.3 mm", "10 mm"),
    ];

    private static readonly (string Name, string Keys, PositionFaultKind Kind, double Millimetres)[] Faults =
    [
        ("none", "", PositionFaultKind.EncoderSlip, 0),
        ("slip 1 mm", "kind = \"encoder slip\"\nat = \"50 %\"\nsize = \"1 mm\"", PositionFaultKind.EncoderSlip, 1),
        ("slip 3 mm", "kind = \"encoder slip\"\nat = \"50 %\"\nsize = \"3 mm\"", PositionFaultKind.EncoderSlip, 3),
        ("slip 10 mm", "kind = \"encoder slip\"\nat = \"50 %\"\nsize = \"10 mm\"", PositionFaultKind.EncoderSlip, 10),
        ("spin 5 mm", "kind = \"encoder spin\"\nat = \"40 %\"\nsize = \"5 mm\"", PositionFaultKind.EncoderSpin, -5),
        ("reversal 5 mm", "kind = \"reversal\"\nat = \"40 %\"\nsize = \"5 mm\"", PositionFaultKind.Reversal, -10),
        ("missed index 4 mm", "kind = \"missed index\"\nsize = \"4 mm\"", PositionFaultKind.IndexStep, -4),
        ("duplicate line", "kind = \"duplicate line\"", PositionFaultKind.DuplicateLine, 0),
    ];

    /// <summary>Prints a row for each wall and fault.</summary>
    /// <param name="seeds">Scans for each.</param>
    public static void Run(int seeds)
    {
        Console.WriteLine(
            "| roughness, length | planted | scans | found, right line, to one cell | found, line not told | other faults reported | overlaps that cannot tell |"
        );
        Console.WriteLine("|---|---|---|---|---|---|---|");
        long cells = 0;
        var watch = new Stopwatch();
        foreach ((string rms, string length) in Walls)
        foreach ((string name, string keys, PositionFaultKind kind, double size) in Faults)
        {
            int right = 0,
                either = 0,
                other = 0,
                untold = 0;
            for (int seed = 1; seed <= seeds; seed++)
            {
                SceneModel model = Scene(rms, length, keys, seed);
                ComponentSurface surface = SceneLines.Surface(model);
                LineCells[] lines = SceneLines.Of(model, 0.03e-3, seed);
                watch.Start();
                PositionReport report = PositionFaults.Find(surface, lines);
                watch.Stop();
                cells += lines.Sum(line => (long)line.Scans * line.Beams);
                untold += report.Untold.Count;
                foreach (PositionFault fault in report.Faults.Where(f => f.Kind != PositionFaultKind.DroppedPositions))
                {
                    bool found =
                        keys.Length > 0
                        && fault.Kind == kind
                        && Math.Abs(fault.SizeMetres - size * 1e-3) <= 1.001e-3
                        && (fault.Line == 1 || !fault.IsAttributed);
                    right += found && fault.IsAttributed ? 1 : 0;
                    either += found && !fault.IsAttributed ? 1 : 0;
                    other += found ? 0 : 1;
                }
            }
            Console.WriteLine(
                $"| {rms}, {length} | {name} | {seeds} | {right} | {either} | {other} | {untold} of {2 * seeds} |"
            );
        }
        Console.Error.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{cells / watch.Elapsed.TotalSeconds:0} cells a second, {watch.Elapsed.TotalSeconds:0.0} s"
            )
        );
    }

    private static SceneModel Scene(string rms, string length, string fault, int seed) =>
        SceneModel.Compile(
            SceneText
                .Read(
                    $"""
                    [scene]
                    name = "positions"
                    seed = {seed}
                    [component]
                    kind = "elbow"
                    nps = "4"
                    schedule = "40"
                    [[wall.roughness]]
                    name = "rough"
                    rms = "{rms}"
                    correlation_along = "{length}"
                    spectrum = "gaussian"
                    [array]
                    elements = 64
                    aperture_elements = 8
                    pitch = "1 mm"
                    [scan]
                    lines = 3
                    overlap = "8 mm"
                    first_line = "20 deg"
                    from = "0 mm"
                    to = "150 mm"
                    {(fault.Length == 0 ? "" : "[[fault]]\nlines = [2]\n" + fault)}
                    """,
                    "study"
                )
                .Value
        );
}
